"""A folder of one's own laid over the shipped pages: what it adds and replaces, what it may not, what is recorded."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from bot import assemble as assembling
from bot.assemble import Checked, assemble, check
from bot.cli import main
from bot.corpus.place import (
    MOST_BYTES,
    CorpusNotFound,
    CorpusRefused,
    Layer,
    Wanted,
    corpus_folder,
    layers_of,
    stands_alone,
)
from bot.corpus.reader import Reading
from bot.find.search import Search
from bot.parts.known import expected_of, sheet_for
from bot.parts.listed import read_list
from bot.shells.export import record_markdown, record_plain
from bot.shells.records import Store
from bot.shells.session import Session
from bot.talk.knowledge import Knowledge

SHIPPED = corpus_folder()
GUIDE = """---
title: Where our yard keeps the yellow quoins
fits: manual, one_motor
link: none
for: help line
source: our yard
---
## Stands
- The quoins lie in the blue shed.
"""
WORDS = """---
title: What callers of our yard say
---
## group: leg
- wibbler, wobbly stick
## button_response: clicks
- goes tock tock
- example: it goes tock tock
"""
BATTERY = """---
title: Order sheet for a battery
part: battery
causes: battery_discharged
link: battery
source: our yard
---
## Points
- volts_battery_loaded: with the button held.
- group size: off the label of the battery.
"""


def write(folder: Path, name: str, text: str | bytes) -> Path:
    """A file below the folder, its own folder made."""
    file = folder / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    return file


def shipped(name: str) -> str:
    """The text of a shipped page."""
    return (SHIPPED / name).read_text(encoding="utf-8")


def good(folder: Path) -> Path:
    """A folder that adds a guide, replaces a cause, and adds words."""
    write(folder, "guides/our-yard.md", GUIDE)
    bent = shipped("causes/leg-bent.md").replace("title: Leg bent", "title: Leg gone banana")
    write(folder, "causes/leg-bent.md", bent)
    write(folder, "words/talk.md", WORDS)  # the name of a shipped file: its words are added all the same
    write(folder, "parts/order-sheet-battery.md", BATTERY)
    write(folder, "README.md", "# Ours")
    write(folder, "LICENSE", "ours")
    return folder


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good(tmp_path_factory.mktemp("own"))


@pytest.fixture(scope="module")
def laid(own: Path, _own_folders: None) -> tuple[Knowledge, Search]:
    return assemble(Wanted(own=str(own)))


# --- what it does ---------------------------------------------------------------------------------------


def test_page_is_added_and_found(laid: tuple[Knowledge, Search], knowledge: Knowledge) -> None:
    over, search = laid
    assert set(over.pages) - set(knowledge.pages) == {"our-yard", "order-sheet-battery"}
    assert set(knowledge.pages) <= set(over.pages)
    assert search.hits("yellow quoins", 3)[0].id == "our-yard"


def test_page_is_replaced_by_its_id_and_nothing_else_changes(
    laid: tuple[Knowledge, Search], knowledge: Knowledge
) -> None:
    over = laid[0]
    changed = {i for i in knowledge.pages if over.pages[i].title != knowledge.pages[i].title}
    assert changed == {"leg-bent"}
    assert over.causes["leg_bent"].page.title == "Leg gone banana"
    assert over.pages["leg-bent"].role == "own"
    mine = {i for i, p in over.pages.items() if p.role == "own"}
    assert mine == {"leg-bent", "our-yard", "order-sheet-battery"}
    assert {p.role for i, p in over.pages.items() if i not in mine} == {"shipped"}
    assert over.model.priors == knowledge.model.priors


def test_words_are_added_and_none_is_lost(laid: tuple[Knowledge, Search], knowledge: Knowledge) -> None:
    over, before = laid[0].reader.lexicon, knowledge.reader.lexicon
    assert set(over.groups["leg"]) - set(before.groups["leg"]) == {"wibbler", "wobbly stick"}
    assert set(before.groups["leg"]) <= set(over.groups["leg"])
    said = {h.meaning for h in over.read("the motor goes tock tock")}
    assert "button_response: clicks" in said
    assert "button_response: clicks" not in {h.meaning for h in before.read("the motor goes tock tock")}
    assert "button_response: clicks" in {h.meaning for h in over.read("it just clicks")}
    assert "intent: put aside" in {h.meaning for h in over.read("put it aside")}


def test_part_of_ones_own_gets_its_order_sheet_without_code(
    laid: tuple[Knowledge, Search], knowledge: Knowledge
) -> None:
    over = laid[0]
    found = sheet_for(over.causes["battery_discharged"], over.corpus)
    assert found is not None
    assert found.part == "battery"
    assert sheet_for(knowledge.causes["battery_discharged"], knowledge.corpus) is None
    blob = b"part,kind,rating\nA,battery,100 Ah\n"
    assert [p.kind for p in read_list(blob, expected_of(over.corpus)).parts] == ["battery"]
    assert read_list(blob, expected_of(knowledge.corpus)).parts == ()


def test_fingerprint_is_that_of_the_bytes_read(laid: tuple[Knowledge, Search], own: Path) -> None:
    over = laid[0]
    for name in ("guides/our-yard", "causes/leg-bent"):
        raw = (own / f"{name}.md").read_bytes()
        assert over.pages[name.split("/")[1]].digest == hashlib.sha256(raw).hexdigest()
    ground = (SHIPPED / "causes/bad-ground.md").read_bytes()
    assert over.pages["bad-ground"].digest == hashlib.sha256(ground).hexdigest()
    assert [layer[0] for layer in over.corpus.layers] == ["shipped", "own"]
    assert over.corpus.layers[1][2] == 4


def test_check_says_what_is_added_replaced_and_in_words(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["corpus", "check", "--corpus", str(own)]) == 0
    out = capsys.readouterr().out.splitlines()
    assert "added: guides/our-yard" in out
    assert "replaced: causes/leg-bent" in out
    assert "words: group: leg, 2 added" in out
    assert "words: button_response: clicks, 1 added" in out
    assert not any(line.startswith("no longer links") for line in out)


def test_bare_folder_that_is_no_whole_corpus_is_laid_over(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not stands_alone(str(own))
    assert stands_alone(str(SHIPPED))
    assert main(["corpus", "check", str(own)]) == 0
    assert "added: guides/our-yard" in capsys.readouterr().out


def test_setting_names_the_folder(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LEGLINE_CORPUS", str(own))
    assert [layer.role for layer in layers_of()] == ["shipped", "own"]
    assert layers_of()[1].folder == own
    assert [layer.role for layer in layers_of(Wanted(alone=str(SHIPPED)))] == ["alone"]
    monkeypatch.setenv("LEGLINE_CORPUS", str(own / "nowhere"))
    with pytest.raises(CorpusNotFound, match="LEGLINE_CORPUS"):
        layers_of()


def test_whole_corpus_is_used_alone(tmp_path: Path) -> None:
    folder = tmp_path / "whole"
    shutil.copytree(SHIPPED, folder)
    (folder / "guides" / "spare-box.md").unlink()
    checked = check(Wanted(alone=str(folder)))
    assert {layer[0] for layer in checked.corpus.layers} == {"alone"}
    assert "spare-box" not in {p.id for p in checked.corpus.pages()}
    assert checked.overlay is None


def test_both_options_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["find", "leg", "--corpus", "a", "--corpus-alone", "b"]) == 2
    assert main(["find", "leg", "--corpus="]) == 2
    assert "needs a folder" in capsys.readouterr().err


# --- the prepared copy ----------------------------------------------------------------------------------


def test_prepared_copy_is_used_again_until_a_file_changes(
    laid: tuple[Knowledge, Search], own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no(*_: object) -> None:
        raise AssertionError("prepared anew")

    monkeypatch.setattr(assembling, "_prepare", no)
    assert assemble(Wanted(own=str(own)))[0].corpus.fingerprint == laid[0].corpus.fingerprint


def test_stamp_changes_with_any_file_of_either_folder(tmp_path: Path) -> None:
    base, over = tmp_path / "shipped", tmp_path / "own"
    write(base, "causes/a.md", "one")
    page = write(over, "guides/b.md", "two")
    layers = (Layer(base, "shipped"), Layer(over, "own"))
    seen = {assembling._stamp(layers)}

    def changed(what: str) -> None:
        stamp = assembling._stamp(layers)
        assert stamp not in seen, what
        seen.add(stamp)

    times = page.stat()
    page.write_text("too")  # as long as before, and its time of writing set back
    os.utime(page, ns=(times.st_atime_ns, times.st_mtime_ns))
    changed("same length and time")
    write(base, "causes/a.md", "ons")
    changed("a shipped page")
    extra = write(over, "words/c.md", "")
    changed("added")
    extra.rename(over / "words" / "d.md")
    changed("renamed")
    (over / "words" / "d.md").unlink()
    page.unlink()
    changed("gone")
    assert assembling._stamp(layers[:1]) not in seen


def test_copies_of_other_folders_stay(laid: tuple[Knowledge, Search], knowledge: Knowledge) -> None:
    kept = list(assembling.cache_folder().glob("prepared-*"))
    assert 2 <= len(kept) <= assembling._KEPT


# --- what is refused --------------------------------------------------------------------------------------


def _link_out(folder: Path) -> None:
    outside = write(folder.parent, "outside.md", GUIDE)
    (folder / "guides").mkdir(parents=True)
    (folder / "guides" / "in.md").symlink_to(outside)


def _folder_out(folder: Path) -> None:
    write(folder.parent, "elsewhere/in.md", GUIDE)
    write(folder, "guides/fine.md", GUIDE)
    (folder / "causes").symlink_to(folder.parent / "elsewhere")


def _up_and_out(folder: Path) -> None:
    write(folder.parent, "outside.md", GUIDE)
    (folder / "guides").mkdir(parents=True)
    (folder / "guides" / "in.md").symlink_to("../../outside.md")


def _nowhere(folder: Path) -> None:
    write(folder, "guides/fine.md", GUIDE)
    (folder / "guides" / "gone.md").symlink_to("never-was.md")


def _folder_as_page(folder: Path) -> None:
    (folder / "guides" / "page.md").mkdir(parents=True)


def _pipe(folder: Path) -> None:
    (folder / "guides").mkdir(parents=True)
    os.mkfifo(folder / "guides" / "pipe.md")


REFUSED: list[tuple[str, Callable[[Path], object], str]] = [
    ("missing", lambda f: None, "There is no folder"),
    ("a file", lambda f: f.write_text("x"), "is a file"),
    ("empty", lambda f: f.mkdir(), "holds no page"),
    ("empty kinds", lambda f: (f / "causes").mkdir(parents=True), "holds no page"),
    ("page beside the kinds", lambda f: write(f, "loose.md", GUIDE), '"loose.md" lies beside'),
    ("link out", _link_out, "leads out of the folder"),
    ("folder that is a link out", _folder_out, "leads out of the folder"),
    ("link up and out", _up_and_out, "leads out of the folder"),
    ("link to nothing", _nowhere, "leads nowhere"),
    ("folder as page", _folder_as_page, "is no file with text"),
    ("pipe as page", _pipe, "is no file with text"),
    ("huge", lambda f: write(f, "guides/big.md", b"x" * (MOST_BYTES + 1)), "bytes long"),
]


@pytest.mark.parametrize(("name", "make", "says"), REFUSED, ids=[r[0] for r in REFUSED])
def test_folder_that_cannot_be_used_is_refused_in_words(
    name: str,
    make: Callable[[Path], object],
    says: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    folder = tmp_path / "mine"
    make(folder)
    with pytest.raises(CorpusNotFound) as caught:
        layers_of(Wanted(own=str(folder)))
    assert says in str(caught.value)
    assert str(folder) in str(caught.value)
    assert main(["ask", "it clicks", "--corpus", str(folder)]) == 1
    shown = capsys.readouterr()
    assert says in shown.err
    assert shown.out == ""
    assert "Traceback" not in shown.err


def test_folder_that_may_not_be_read_is_refused_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path, "guides/a.md", GUIDE)

    def refused(self: Path) -> None:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "iterdir", refused)
    with pytest.raises(CorpusRefused, match="cannot be read: Permission denied"):
        layers_of(Wanted(own=str(tmp_path)))


def test_link_inside_the_folder_is_taken(tmp_path: Path) -> None:
    write(tmp_path, "guides/a.md", GUIDE)
    (tmp_path / "guides" / "b.md").symlink_to("a.md")
    assert layers_of(Wanted(own=str(tmp_path)))[1].role == "own"


@pytest.fixture(scope="module")
def faulty(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Checked]:
    """One folder with every fault that shows only over the shipped pages."""
    folder = tmp_path_factory.mktemp("faulty")
    write(folder, "checks/a-cause.md", shipped("causes/bad-ground.md"))
    write(folder, "guides/a-walk.md", shipped("procedures/clean-the-ground.md"))
    write(folder, "recipes/soup.md", GUIDE)
    write(folder, "loose.md", GUIDE)
    write(folder, "guides/named.txt", GUIDE)
    write(folder, "guides/deeper/page.md", GUIDE)
    write(folder, "guides/bad-ground.md", GUIDE)
    write(folder, "guides/latin.md", GUIDE.encode().replace(b"Stands", b"St\xe4nds"))
    support = shipped("checks/support.md").replace("choice: hitched, ", "choice: ")
    write(folder, "checks/support.md", support.replace("- hitched:", "- legs:"))
    write(folder, "checks/amps.md", shipped("checks/amps.md").replace("quantity A", "quantity V"))
    switch = shipped("procedures/replace-the-switch.md").replace(
        "mends: switch_failed", "mends: motor_failed"
    )
    write(folder, "procedures/replace-the-switch.md", switch)
    relay = shipped("procedures/replace-the-relay.md").splitlines(keepends=True)
    first = next(n for n, text in enumerate(relay) if "- makes safe:" in text)
    write(folder, "procedures/replace-the-relay.md", "".join(relay[:first] + relay[first + 1 :]))
    bent = shipped("causes/leg-bent.md").replace("- leg_leans:", "- leg_leens:")
    write(folder, "causes/leg-bent.md", bent)
    leg = shipped("parts/order-sheet-leg.md")
    write(folder, "parts/order-sheet-leg.md", leg.replace("- stroke_in:", "- strike_in:"))
    motor = shipped("parts/order-sheet-motor.md").replace("causes: motor_failed", "causes: motor_falied")
    motor = motor.replace("guide: ", "guide: no-").replace("- shaft: by hand", "- handle: by hand")
    write(
        folder,
        "parts/order-sheet-motor.md",
        motor.replace("at least motor_rating_a", "at most motor_rating_a"),
    )
    fuse = shipped("parts/order-sheet-fuse.md").replace("same as fuse_rating_a", "same as fuse_ratings")
    write(folder, "parts/order-sheet-fuse.md", fuse.replace("- holder: ", "- holder "))
    write(folder, "parts/our-relay.md", shipped("parts/order-sheet-relay.md"))
    write(folder, "words/ours.md", WORDS + "## danger: person hurt\n- unless: my, foot, pinned\n")
    return folder, check(Wanted(own=str(folder)))


def _line(file: Path, start: str) -> int:
    lines = file.read_text(encoding="utf-8").splitlines()
    return next(n for n, text in enumerate(lines, 1) if text.startswith(start))


@pytest.mark.parametrize(
    ("file", "start", "says"),
    [
        ("checks/a-cause.md", "", "the page is one of causes/"),
        ("guides/a-walk.md", "", "the page is one of procedures/"),
        ("recipes/soup.md", "", '"recipes" is no kind of page'),
        ("loose.md", "", "lies in no folder of a kind"),
        ("guides/named.txt", "", "the file is not read"),
        ("guides/deeper/page.md", "", "a folder inside a kind is not read"),
        ("guides/bad-ground.md", "", "is taken by the shipped causes/bad-ground.md"),
        ("checks/support.md", "answer:", "the shipped check also has: hitched"),
        ("checks/amps.md", "answer:", "the shipped check of that name answers quantity A"),
        ("causes/leg-bent.md", "- leg_leens:", 'no check yields the finding "leg_leens"'),
        ("parts/order-sheet-leg.md", "- strike_in:", 'no check yields the finding "strike_in"'),
        ("parts/order-sheet-motor.md", "causes:", 'there is no cause "motor_falied"'),
        ("parts/order-sheet-motor.md", "- handle:", '"handle" is no column that is matched'),
        ("parts/order-sheet-motor.md", "- rating: at most", "is no way to match"),
        ("parts/order-sheet-fuse.md", "- rating: same", 'no check yields the finding "fuse_ratings"'),
        ("parts/order-sheet-fuse.md", "- holder", "says not how to get it"),
        ("parts/our-relay.md", "part:", '"part relay" stands in parts/order-sheet-relay.md already'),
        ("words/ours.md", "## danger: person hurt", "would be heard less often"),
    ],
)
def test_fault_is_named_in_the_folder_of_ones_own(
    file: str, start: str, says: str, faulty: tuple[Path, Checked]
) -> None:
    folder, checked = faulty
    where = (str(folder / file), _line(folder / file, start) if start else 1)
    here = [p for p in checked.new if (p.file, p.line) == where and says in p.what]
    assert here, [str(p) for p in checked.new if p.file == where[0]]
    assert here[0].fix
    assert here[0] not in checked.unlinked()


def test_procedure_of_ones_own_that_leaves_a_hazard_open_is_named(faulty: tuple[Path, Checked]) -> None:
    folder, checked = faulty
    here = [p for p in checked.new if p.file == str(folder / "procedures/replace-the-relay.md")]
    assert any("makes it safe" in p.what or "safe" in p.what + p.fix for p in here), [str(p) for p in here]


def test_page_that_cannot_be_opened_is_a_fault_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "guides" / "page.md").mkdir(parents=True)
    reading = Reading(Layer(tmp_path, "own"))
    assert reading.page("guides", tmp_path / "guides" / "page.md") is None
    assert reading.problems[0].file == str(tmp_path / "guides" / "page.md")
    assert "cannot be read" in reading.problems[0].what


def test_page_saved_by_an_editor_with_a_mark_and_carriage_returns_is_read(tmp_path: Path) -> None:
    file = write(tmp_path, "guides/ours.md", "\ufeff" + GUIDE.replace("\n", "\r\n"))
    reading = Reading(Layer(tmp_path, "own"))
    page = reading.page("guides", file)
    assert reading.problems == []
    assert page is not None
    assert page.title == "Where our yard keeps the yellow quoins"
    assert page.bullets("Stands") == ("The quoins lie in the blue shed.",)


def test_text_that_is_not_utf8_is_named(faulty: tuple[Path, Checked]) -> None:
    folder, checked = faulty
    assert any(p.file == str(folder / "guides/latin.md") and "UTF-8" in p.fix for p in checked.new)


def test_shipped_page_that_no_longer_links_is_named(faulty: tuple[Path, Checked]) -> None:
    _, checked = faulty
    line = _line(SHIPPED / "causes/switch-failed.md", "mends:")
    assert any((p.file, p.line) == ("causes/switch-failed.md", line) for p in checked.unlinked())
    assert all(not Path(p.file).is_absolute() for p in checked.unlinked())


def test_faulty_pages_are_not_used(faulty: tuple[Path, Checked], capsys: pytest.CaptureFixture[str]) -> None:
    folder, checked = faulty
    with pytest.raises(CorpusRefused, match="so they are not used"):
        assemble(Wanted(own=str(folder)))
    assert main(["corpus", "check", "--corpus", str(folder)]) == 1
    shown = capsys.readouterr()
    assert "no longer links: causes/switch-failed.md, line" in shown.out
    assert f"{len(checked.problems)} to mend" in shown.err


# --- the record -------------------------------------------------------------------------------------------


def test_case_says_which_pages_of_which_corpus_it_used(
    laid: tuple[Knowledge, Search], own: Path, tmp_path: Path, knowledge: Knowledge
) -> None:
    over = laid[0]
    store = Store(tmp_path)
    session = Session(over, store)
    told = [
        "the left leg is bent, it rubs at one spot, dragged it off the site with the legs down",
        "everybody is safe, hitched, jaws locked",
        "one motor with a bar",
        "the crank will not turn freely, no squeal",
    ]
    for text in (*told, *("don't know",) * 12):
        session.hear(text)
        if session.state.verdict is not None:
            break
    assert session.number is not None
    assert session.state.verdict is not None
    assert session.state.verdict.cause == "leg_bent"
    kept = {u.page: u for u in store.pages(session.number)}
    mine = hashlib.sha256((own / "causes/leg-bent.md").read_bytes()).hexdigest()
    theirs = hashlib.sha256((SHIPPED / "checks/leg-visibly-bent.md").read_bytes()).hexdigest()
    assert (kept["causes/leg-bent"].role, kept["causes/leg-bent"].digest) == ("own", mine)
    assert (kept["checks/leg-visibly-bent"].role, kept["checks/leg-visibly-bent"].digest) == (
        "shipped",
        theirs,
    )
    assert "causes/motor-failed" not in kept
    events = store.events(session.number)
    text = record_markdown(session.number, events, over, store.pages(session.number))
    assert f"- causes/leg-bent: own, {mine[:12]}\n" in text
    assert f"- checks/leg-visibly-bent: shipped, {theirs[:12]}\n" in text
    plain = json.loads(json.dumps(record_plain(1, events, over, store.pages(session.number))))
    assert {
        "role": "own",
        "page": "causes/leg-bent",
        "digest": mine,
        "corpus": over.corpus.fingerprint,
    } in plain["pages"]
    assert [layer["role"] for layer in plain["layers"]] == ["shipped", "own"]
    later = record_markdown(session.number, events, knowledge, store.pages(session.number))
    assert f"- causes/leg-bent: own, {mine[:12]}; changed since" in later


def test_deleted_case_takes_its_pages_along(knowledge: Knowledge, tmp_path: Path) -> None:
    store = Store(tmp_path)
    session = Session(knowledge, store)
    session.hear("it just clicks")
    assert session.number is not None
    assert store.pages(session.number)
    store.delete(session.number)
    assert store.pages(session.number) == ()
