"""What would give a secret away in a finished file is told at the author's text it comes from."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.checks import secrecy
from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.press.leak_check import name_sources
from guidebuild.press.leak_scan import file_leaks
from tests.fieldwork.invented import BIRCH, PARENT, guide

MEND = "Mend the text or picture it comes from; nothing was published."
NAME = "The name “weir pool” gives away the secret place “Weir Pool”."


def told(held: Guide, *pages: str) -> list[str]:
    files = [(f"site/{number}.html", page) for number, page in enumerate(pages)]
    return list(map(str, name_sources(held, [leak for name, page in files for leak in file_leaks(name, page.encode(), secrets_of(held))])))


def with_text(account: Account, text: str, line: int) -> Account:
    return replace(account, sections=(Section("In brief", text, At(account.at.file, line)),))


def test_a_leak_is_told_at_the_line_of_the_text_it_comes_from() -> None:
    held = guide(with_text(PARENT, "On birch.\nBy the Weir Pool.", 20))
    assert told(held, "<p>On birch. By the Weir Pool.") == [f"accounts/parent-bug.md:21: {NAME} {MEND} It would stand in site/0.html."]


def test_a_text_that_stands_in_several_files_is_told_once() -> None:
    held = guide(with_text(PARENT, "By the Weir Pool.", 20))
    (problem,) = told(held, "By the Weir Pool.", "the Weir\nPool", "weir pool")
    assert problem == f"accounts/parent-bug.md:20: {NAME} {MEND} It would stand in site/0.html and in 2 more."


def test_words_that_tags_join_on_the_page_are_found_in_the_text() -> None:
    held = guide(with_text(PARENT, "By the Weir *Pool*.", 20))
    (problem,) = told(held, "By the Weir <em>Pool</em>")
    assert problem.startswith("accounts/parent-bug.md:20: ")


def test_a_position_is_told_at_its_own_text_and_not_at_one_with_the_name() -> None:
    held = guide(with_text(PARENT, "By the Weir Pool.", 20), with_text(BIRCH, "At 51.1278, -1.2846.", 30))
    (problem,) = told(held, "At 51.1278, -1.2846.")
    assert problem.startswith("accounts/birch-bug.md:30: The position ")


def test_many_texts_are_counted_after_the_third() -> None:
    held = guide(*(with_text(replace(PARENT, id=f"bug-{n}", at=At(f"accounts/bug-{n}.md", 1)), "By the Weir Pool.", 20) for n in range(5)))
    (problem,) = told(held, "the weir pool")
    assert problem.startswith("accounts/bug-0.md:20, accounts/bug-1.md:20, accounts/bug-2.md:20 and 2 more: ")


def test_what_no_text_of_the_guide_says_is_told_where_it_was_found() -> None:
    assert told(guide(), "by the Weir Pool", "the Weir Pool") == [
        f"site/0.html: {NAME} {MEND}",
        f"site/1.html: {NAME} {MEND}",
    ]


def test_an_old_address_that_names_a_secret_place_is_told_by_the_check_too() -> None:
    held = guide(replace(PARENT, formerly=("weir-pool-bug",), positions={"formerly": At("accounts/parent-bug.md", 7)}))
    assert [str(f.at) for f in secrecy.SECRET_WRITTEN.run(held)] == ["accounts/parent-bug.md:7"]
    (problem,) = name_sources(held, file_leaks("site/accounts/weir-pool-bug.html", b"", secrets_of(held)))
    assert problem.where == "accounts/parent-bug.md:7"
