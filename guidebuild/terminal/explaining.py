"""What a word means, as a terminal shows it."""

from __future__ import annotations

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from guidebuild.guide.findings import Code
from guidebuild.handbook.explaining import RULES_PAGE, CommandTold, Explained
from guidebuild.handbook.keys import Key


def print_explained(console: Console, wanted: str, found: Explained) -> None:
    """All that a word means, one thing after the other; what may have been meant, where it is not known."""
    if found.is_empty:
        nearest = f" Do you mean: guidebuild explain {found.nearest}" if found.nearest else " Look it up in: guidebuild handbook"
        console.print(f"“{wanted}” is no key, rule, word or command.{nearest}", highlight=False, soft_wrap=True)
        return
    blocks = [
        *(_key(file, key) for file, key in found.keys),
        *map(_rule, found.rules),
        *(_word(*word) for word in found.words),
        *map(_command, found.commands),
    ]
    for number, (head, rows) in enumerate(blocks):
        if number:
            console.print()
        console.print(head, soft_wrap=not console.is_terminal)
        for row in rows:
            console.print(Padding(row, (0, 0, 0, 2)), soft_wrap=not console.is_terminal)


def _head(name: str, what: str) -> Text:
    return Text.assemble((name, "bold"), (f"  {what}", "dim"))


def _labelled(label: str, text: str) -> Text:
    gap = "\n" if "\n" in text else " "
    return Text.assemble((f"{label}:", "dim"), gap, text)


def _key(file: str, key: Key) -> tuple[Text, list[Text]]:
    must = " It must be there." if key.needed else ""
    rows = [Text(key.meaning + must), Text(key.form), _labelled("For example", key.example), _labelled("It changes", key.effect)]
    if key.asked_at:
        rows.append(_labelled("Asked for", f"from the level {key.asked_at} on"))
    return _head(key.name, f"a key of {file}"), rows


def _rule(rule: Code) -> tuple[Text, list[Text]]:
    return _head(rule.code, f"a rule; usually {rule.level.value}"), [
        Text(f"{rule.title}. {rule.why}"),
        Text(rule.mend),
        _labelled("In the handbook", RULES_PAGE),
    ]


def _word(word: str, meaning: str) -> tuple[Text, list[Text]]:
    return _head(word, "a word of the trade"), [Text(meaning)]


def _command(command: CommandTold) -> tuple[Text, list[Text]]:
    rows = [Text(command.help.split("\n\n")[0]), Text(command.usage)]
    rows += [_labelled(typed, does) for typed, does in command.options]
    return _head(f"guidebuild {command.name}", "a command"), rows
