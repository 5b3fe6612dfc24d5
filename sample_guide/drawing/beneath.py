"""A grown shieldbug on its back, with its beak."""

from __future__ import annotations

from body import Form, Pose, abdomen_outline, head_outline, leg_joints, mirrored, pronotum_outline
from brush import Finish, Pits, Point, Sheet, disc, ribbon, smooth
from coat import Coat
from painter import Painter


def underside_landmarks() -> dict[str, Point]:
    """The places that a pointer can name, in body lengths."""
    return {"rostrum": (0.0, 0.19), "abdomen": (0.0, 0.72), "legs": leg_joints(1, 1)[1]}


def underside(sheet: Sheet, pose: Pose, form: Form, coat: Coat, *, rostrum: float, seed: int = 4) -> None:
    """The animal on its back; `rostrum` is the thickness of its beak in body lengths."""
    px = pose.length
    painter = Painter(sheet, pose, form, coat, seed)
    painter.shadow()
    painter.antennae()
    outline = pose.all(smooth(abdomen_outline(form)))
    fine = Pits(1.2 * (900 / px) ** 2, px * 0.002, (40, 30, 18), 0.45)
    sheet.paint(outline, coat.tone("belly"), Finish(round=0.17, pits=fine, mottle_size=px * 0.02), seed=seed)
    for i in range(6):
        y = 0.47 + i * 0.078
        line = smooth([(-0.32, y + 0.02), (0.0, y - 0.012), (0.32, y + 0.02)], closed=False)
        sheet.wash(ribbon(pose.all(line), [px * 0.006]), coat.tone("belly").dark, soft=0.8, strength=0.7, within=outline)
        for side in (1, -1):
            sheet.wash(disc(*pose.at((side * form.abdomen * 0.78, y + 0.035)), px * 0.007), (30, 22, 14), soft=0.6, within=outline)
    sheet.paint(pose.all(smooth(pronotum_outline(form))), coat.tone("belly"), Finish(round=0.14, pits=fine), seed=seed + 1)
    chest = mirrored([(0.0, 0.2), (0.17, 0.22), (0.21, 0.38), (0.14, 0.47), (0.0, 0.48)])
    sheet.paint(pose.all(smooth(chest)), coat.tone("chest"), Finish(round=0.1, pits=fine), seed=seed + 2)
    sheet.paint(pose.all(smooth(head_outline(form))), coat.tone("belly"), Finish(round=0.16, pits=fine), seed=seed + 3)
    painter.legs()
    for number in range(3):
        for side in (1, -1):
            x, y = leg_joints(number, side)[0]
            sheet.paint(disc(*pose.at((x * 0.62, y * 0.82 + 0.06)), px * 0.035), coat.tone("femur"), Finish(round=0.3))
    path = pose.all([(0.0, 0.02), (0.0, 0.12), (0.0, 0.24), (0.0, 0.36)])
    sheet.wash([(x + 5, y + 6) for x, y in ribbon(path, [px * rostrum])], (20, 16, 10), soft=5, strength=0.5)
    for i in range(4):
        piece = pose.all([(0.0, 0.015 + i * 0.087), (0.0, 0.015 + (i + 0.5) * 0.087), (0.0, 0.1 + i * 0.087)])
        wide = rostrum * (1.15 - i * 0.17)
        sheet.paint(
            ribbon(piece, [px * wide * 0.85, px * wide, px * wide * 0.8]), coat.tone("rostrum"), Finish(round=0.25, gloss=0.5), seed=i
        )
    painter.eyes()
