"""Comparisons and keys on a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table
from rich.text import Text

from guidebuild.identify.key import Statistics
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.telling.compare import CompareRow, CompareView
from guidebuild.views.telling.diagnosis import DiagnosisView
from guidebuild.views.telling.key import KeyRow, KeyView


def print_comparison(console: Console, view: CompareView) -> None:
    """What separates first, easiest first, then what does not, then the sentences to say aloud."""
    names = [taxon.link.text for taxon in view.taxa]
    if view.separating:
        console.print(_compared("What tells them apart", names, view.separating, style="bold"))
    for one, other in view.untold:
        console.print(Text(f"Nothing in the guide tells {one} from {other}.", style="bold red"))
    for one, other in view.in_hand:
        console.print(Text(f"{one} and {other} are told apart only in the hand: not on a walk.", style="yellow"))
    if view.shared:
        console.print()
        console.print(_compared("What does not tell them apart", names, view.shared, style=""))
    if view.sentences:
        console.print()
    for sentence in view.sentences:
        console.print(sentence, highlight=False)
    print_cautions(console, view.cautions)


def print_diagnoses(console: Console, name: str, views: Iterable[DiagnosisView]) -> None:
    """The shortest diagnoses of one species: against all, its family and its look-alikes."""
    for view in views:
        where = f" ({view.where})" if view.where else ""
        alone = ", each line by itself" if len(view.sets) > 1 else ""
        console.print(Text(f"What tells {name} from {view.against}{where}{alone}", style="bold"))
        for told in view.sets:
            console.print("  " + "; ".join(f"{label}: {words}" for label, words in told), highlight=False)
        if view.more:
            console.print(Text(f"  and {view.more} more as short", style="dim"))
        if not view.exact:
            console.print(Text(f"  (found quickly; none has fewer than {view.at_least} characters)", style="dim"))
        for link in view.untold:
            said = f"  Nothing in the guide tells it from {link.text}" + (f" ({view.where})." if view.where else ".")
            console.print(Text(said, style="bold red"))


def print_key(console: Console, view: KeyView, *, layout: str) -> None:
    """Whom the key is for, the key, indented or bracketed, its groups, and how long it is."""
    if view.scope:
        console.print(Text(f"Only for: {view.scope}", style="bold"), highlight=False)
    if view.alone:
        console.print(", ".join(link.text for link in view.alone), highlight=False)
    if view.wanted:
        console.print(Text(view.wanted.words, style="bold"), soft_wrap=True)
        for label, links in view.wanted.scores:
            console.print(f"  {label}: {', '.join(link.text for link in links)}", highlight=False, soft_wrap=True)
    for row in view.indented if layout == "indented" else view.bracketed:
        console.print(_lead(row, indent=layout == "indented"), highlight=False, soft_wrap=True)
    for number, group in enumerate(view.groups, start=1):
        console.print(
            f"\nGroup {number}: {', '.join(t.text for t in group.taxa)}. {' '.join(group.reasons)}", highlight=False, soft_wrap=True
        )
    if view.caution:
        _print_caution(console, view.caution)
    if view.left_out:
        console.print(f"\nNot scored, so not in the key: {', '.join(link.text for link in view.left_out)}", highlight=False)
    if view.wanted:
        return
    statistics = view.statistics
    console.print(
        f"\nSpecies: {statistics.taxa}. Couplets: {statistics.couplets}. {statistics.mean:.2f} steps on average "
        f"({statistics.expected:.2f} weighted by how common each is), {statistics.greatest} at most{_say_bound(statistics)}.",
        highlight=False,
        soft_wrap=True,
    )


def _say_bound(statistics: Statistics) -> str:
    """The least that is possible, where that can be said."""
    if not statistics.is_two_way or statistics.bound is None:
        return ""
    return f"; no two-way key that names each needs fewer than {statistics.bound:.2f} where all are met equally often"


def print_cautions(console: Console, cautions: Iterable[CautionView]) -> None:
    """What can hurt of what was compared."""
    for caution in cautions:
        _print_caution(console, caution)


def _print_caution(console: Console, caution: CautionView) -> None:
    title = f" {caution.title}." if caution.id or caution.title != "Caution" else ""
    said = f"\nCaution:{title} {caution.whole} {caution.local}".rstrip()
    console.print(Text(said, style="bold red"), soft_wrap=True)


def _compared(title: str, names: list[str], rows: Iterable[CompareRow], *, style: str) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("")
    table.add_column("How near", style="dim")
    for name in names:
        table.add_column(name, style=style)
    for row in rows:
        label = f"{row.label} ({row.where})" if row.where else row.label
        table.add_row(label, row.ease, *(value or "–" for value in row.values))
    return table


def _lead(row: KeyRow, *, indent: bool) -> Text:
    back = f" ({row.came_from[0]}{row.came_from[1]})" if row.came_from and row.first else ""
    space = "  " * row.depth if indent else ""
    line = Text(f"{space}{row.number}{row.letter}{back}  ")
    line.append(f"{row.asks} {row.says}" if row.asks.endswith("?") else f"{row.asks}: {row.says}")
    if row.also:
        line.append(f" ({'; '.join(row.also)})", style="dim")
    if row.ends:
        ends = ", ".join(link.text for link in row.ends)
        line.append(f"  → {ends}" + (f" (group {row.group})" if row.group else ""), style="bold")
    elif row.to is not None:
        line.append(f"  → {row.to}")
    return line
