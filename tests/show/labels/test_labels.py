"""Labels say what casts.csv says of a turn or a course, whole or shorter in a fixed order, and never cut off."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest

from blockrun.errors import BadInput
from blockrun.files.day_names import day_name
from blockrun.planner.begun.facts import Begun, BlockCast, TurnBegun
from blockrun.planner.label_code import plan_id, read_label_code
from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.show.day import Job
from blockrun.show.diary import Diary
from blockrun.show.labels import LabelSheet, labels_on_paper, lacks_said, load_label_sheet, print_labels
from blockrun.show.labels.label import Blocks, Label, Wording
from blockrun.show.labels.stacks import stack_labels
from blockrun.show.labels.turns import mould_labels, rack_labels
from blockrun.show.page import GLUE
from blockrun.show.paper.press import Sheet
from tests.show.paper.as_if import LONG, forty_marks
from tests.show.paper.conftest import HEAD, read_pages

SHEET = load_label_sheet(Path(__file__).parents[3] / "configs" / "labels.yaml")
DAY = date(2027, 4, 5)
FULL = Label(
    "mould",
    "gang-4/03",
    "turn 5",
    (Blocks(2, "W600", "the long northern wall", 3), Blocks(1, "W295", "the long northern wall", 4),
     Blocks(1, "D440", "", 0)),
    (DAY, DAY),
    (("sides off from", datetime.fromisoformat("2027-04-05T22:10")),),
    ("strip from", datetime.fromisoformat("2027-04-06T19:03")),
    "blockrun1 mould 3f9a1c gang-4/03 5",
    (3, 4),
)  # fmt: skip


def small(**changes: float) -> LabelSheet:
    return SHEET.model_copy(update=changes)


def pages_of(plan: Plan, sheet: LabelSheet = SHEET, **asked: object) -> list[str]:
    pages = read_pages(print_labels(HEAD, labels_on_paper(plan, sheet, **asked)))  # type: ignore[arg-type]
    return [page.replace(GLUE, " ").replace("\x02", "-") for page in pages]


def said_of(wording: Wording) -> str:
    return " | ".join([*wording.lines, f"{wording.limit} {wording.when}"]).replace(GLUE, " ")


def wordings(label: Label, units: str = "SI") -> list[str]:
    return [said_of(wording) for wording in label.wordings(units)]


def test_words_get_shorter_in_this_order_and_the_day_of_pouring_and_the_strip_stay() -> None:
    sides, strip = "sides off from Mon 5 Apr 22:10", "strip from Tue 6 Apr 19:03"
    long, brief = f"poured Mon 5 Apr, batches 3 and 4 | {sides} | {strip}", "poured 5 Apr, batches 3 and 4"
    short = f"{brief} | sides off from 5 Apr 22:10 | {strip}"
    assert wordings(FULL) == [
        "2 W600 for the long northern wall course 3 | 1 W295 for the long northern wall course 4 | 1 D440, spare"
        f" | {long}",
        f"2 W600, 1 W295 and 1 D440 | for the long northern wall courses 3, 4, spare | {long}",
        f"2 W600, 1 W295 and 1 D440 | for the long nort… courses 3, 4, spare | {long}",
        f"2 W600, 1 W295 and 1 D440 | for the long nort… courses 3, 4, spare | {short}",
        f"2 W600, 1 W295 and 1 D440 | courses 3, 4 | {short}",
        f"2 W600, 1 W295 and 1 other | courses 3, 4 | {short}",
        f"2 W600, 1 W295 and 1 other, courses 3, 4 | {short}",
        f"2 W600, 1 W295 and 1 other | {short}",
        f"4 blocks | {short}",
        f"4 blocks | {brief} | {strip}",
        f"4 blocks | poured 5 Apr | {strip}",
        "4 blocks | poured 5 Apr | strip from 6 Apr 19:03",
    ]
    assert wordings(FULL, "US")[-1] == "4 blocks | poured Apr 5 | strip from Apr 6 19:03"


def test_each_wording_tells_what_it_lacks() -> None:
    lacks = [wording.lacks for wording in FULL.wordings("SI")]
    assert lacks[0] == []
    assert lacks[4] == ["which are for which course", "names of parts in full", "weekdays", "parts"]
    assert lacks[-1] == [*lacks[4], "some marks", "courses", "marks", "sides off from", "batches"]


def test_nothing_is_lacking_where_the_shorter_words_are_the_same() -> None:
    plain = replace(FULL, blocks=(Blocks(2, "W600", "yard", 0),), others=(), batches=())
    assert [wording.lacks for wording in plain.wordings("SI")][:3] == [[], [], ["weekdays"]]


def test_a_label_that_is_called_by_its_mark_does_not_say_it_twice() -> None:
    label = Label(
        "stack", "W600", "light", (Blocks(3, "W600", "yard", 2),), (DAY, DAY), (), ("lay from", date(2027, 5, 3)), "c"
    )
    assert wordings(label)[0] == "3 blocks for yard course 2 | poured Mon 5 Apr | lay from Mon 3 May"


def test_a_mould_says_from_when_it_is_stripped_as_the_day_page_does(small_plan: Plan) -> None:
    strips = {label.name: label.limit for label in mould_labels(small_plan) if label.beside == "turn 1"}
    diary = Diary(small_plan)
    (job,) = [
        job
        for day in diary.days(diary.first, diary.last)
        for job in day.jobs
        if isinstance(job, Job) and job.task == "strip" and job.names == ("gang-2/01", "gang-2/02") and job.limits
    ]
    (limit,) = job.limits
    assert [strips[name] for name in job.names] == [("strip from", limit.not_before)] * 2


def test_a_soft_thumb_makes_the_strip_later_on_the_label_too(small_plan: Plan) -> None:
    thumbs, _ = Thumbs(small_plan).press("gang-2/01", datetime.fromisoformat("2027-04-06T12:50"), "soft")
    plain, pressed = ({one.code: one.limit[1] for one in mould_labels(small_plan, told)} for told in (None, thumbs))
    changed = [code for code in plain if pressed[code] != plain[code]]
    assert [read_label_code(code).ids for code in changed] == [("gang-2/01", "1")]
    assert pressed[changed[0]] == thumbs.thumbed["gang-2/01", 1].moved("strip") > plain[changed[0]]


def test_a_turn_has_one_label_on_its_mould_with_all_its_blocks(demo_plan: Plan) -> None:
    turns = defaultdict(list)
    for row in demo_plan.tables.casts.itertuples():
        turns[row.mould, str(row.turn)].append(row)
    labels = mould_labels(demo_plan)
    assert len(labels) == len(turns)
    for label in labels:
        code = read_label_code(label.code)
        casts = turns[code.named["mould"], code.named["turn"]]
        assert (label.name, label.count) == (code.named["mould"], len(casts))
        assert {cast.mark for cast in casts} == {one.mark for one in label.blocks}
        assert label.poured == (min(cast.poured for cast in casts).date(), max(cast.poured for cast in casts).date())
        assert label.batches == tuple(dict.fromkeys(cast.batch for cast in casts))
        what, strip = label.limit
        assert what == "strip from"
        assert max(cast.poured for cast in casts) < strip <= min(cast.strip for cast in casts)
        assert [what for what, _ in label.others] == ["sides off from"] * bool(casts[0].base)
        assert code.plan == plan_id(demo_plan)


def test_what_comes_to_a_rack_has_its_label_there(demo_plan: Plan) -> None:
    casts = demo_plan.tables.casts
    labels = rack_labels(demo_plan)
    assert sum(label.count for label in labels) == len(casts)
    assert len(labels) == len(casts.drop_duplicates(["mould", "turn", "rack"]))
    for label in labels:
        mould, turn, rack = read_label_code(label.code).ids
        of_it = casts[(casts["mould"] == mould) & (casts["turn"] == int(turn)) & (casts["rack"] == rack)]
        assert label.name == f"rack {rack}"
        assert label.others == (("off the rack", of_it["rack_to"].max().date()),)
        assert label.limit == ("lay from", of_it["ready"].max().date())


def test_stacks_are_labelled_by_course_and_mark(demo_plan: Plan) -> None:
    casts = demo_plan.tables.casts
    labels = stack_labels(demo_plan)
    assert sum(label.count for label in labels) == len(casts)
    for label in labels:
        part, course, mark, mix = read_label_code(label.code).ids
        of_it = casts[(casts["part"] == part) & (casts["mark"] == mark) & (casts["mix"] == mix)]
        of_it = of_it[of_it["course"].fillna(0) == int(course or 0)]
        assert (label.name, label.count) == (mark, len(of_it))
        assert label.limit == ("lay from", of_it["ready"].max().date())
    ready = [day for _, day in (label.limit for label in labels)]
    assert ready == sorted(ready)


def test_a_label_that_is_large_enough_says_all_of_it(small_plan: Plan) -> None:
    large = small(label_width_mm=95.0, label_height_mm=60.0, columns=2, rows=4)
    text = " ".join(pages_of(small_plan, large))
    for made in (mould_labels, rack_labels, stack_labels):
        for label in made(small_plan):
            for line in said_of(label.wordings("SI")[0]).split(" | "):
                assert line in text


def test_a_label_says_which_plan_it_is_of_where_there_is_room(small_plan: Plan) -> None:
    words = " ".join(pages_of(small_plan, small(label_width_mm=100.0, label_height_mm=50.0, columns=1, rows=1)))
    assert words.count("plan 3") == words.count("MOULD") + words.count("RACK") + words.count("STACK")


@pytest.mark.parametrize(("width", "height"), [(64.0, 34.0), (50.0, 25.0), (48.0, 20.0)])
def test_on_every_label_stands_one_of_its_wordings_whole(demo_plan: Plan, width: float, height: float) -> None:
    sheet = small(label_width_mm=width, label_height_mm=height, columns=1, rows=1, page_width_mm=80.0)
    labels = mould_labels(demo_plan)[:40]
    pages = pages_of(demo_plan, sheet, kinds=["moulds"])
    for label, page in zip(labels, pages, strict=False):
        assert label.name in page
        assert any(" ".join(wording.split(" | ")) in page for wording in wordings(label)), page
        assert "poured" in page
        assert "strip from" in page


def test_long_names_are_shortened_and_letters_stay_on_the_label(tmp_path: Path) -> None:
    plan = forty_marks(tmp_path)
    sheet = small(label_width_mm=52.0, label_height_mm=25.0, columns=1, rows=1, page_width_mm=90.0, page_height_mm=60.0)
    document = pypdfium2.PdfDocument(print_labels(HEAD, labels_on_paper(plan, sheet)))
    for page in document:
        text = page.get_textpage()
        left, top = sheet.left_mm, sheet.top_mm
        for index in range(text.count_chars()):
            x0, y0, x1, y1 = (side / 72 * 25.4 for side in text.get_charbox(index))
            if x1 > x0:
                assert left <= x0 <= x1 <= left + sheet.label_width_mm
                assert top <= sheet.page_height_mm - y1 <= sheet.page_height_mm - y0 <= top + sheet.label_height_mm
    document.close()
    text = " ".join(pages_of(plan, sheet))
    assert "3 blocks poured 5 Apr lay from Mon 3 May" in text
    assert LONG not in text


def test_a_name_too_long_for_a_label_is_refused_and_named(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    casts["rack"] = casts["rack"] + " with a name that goes on and on and on until it is long"
    plan = replace(small_plan, tables=replace(small_plan.tables, casts=casts))
    with pytest.raises(BadInput, match="with a name that goes on"):
        pages_of(plan, small(label_width_mm=46.0, label_height_mm=20.0))


def test_a_partly_used_sheet_is_gone_on_with(small_plan: Plan) -> None:
    sheets = labels_on_paper(small_plan, SHEET, start=23).data["sheets"]
    assert [label["at"] for label in sheets[0]] == [(73.0, 250.0), (139.0, 250.0)]
    assert sheets[1][0]["at"] == (7.0, 12.0)
    total = sum(map(len, sheets))
    assert total == sum(map(len, labels_on_paper(small_plan, SHEET).data["sheets"]))


@pytest.mark.parametrize("start", [0, 25])
def test_a_sheet_has_only_so_many_labels(small_plan: Plan, start: int) -> None:
    with pytest.raises(BadInput, match="the sheet has 24 labels"):
        labels_on_paper(small_plan, SHEET, start=start)


def test_labels_of_some_days_are_those_poured_on_them(demo_plan: Plan) -> None:
    day = min(label.poured[0] for label in mould_labels(demo_plan))
    (text,) = pages_of(demo_plan, kinds=["moulds"], days=(day, day))
    assert f"poured {day_name(day)}" in text
    count = sum(label.poured[0] == day for label in mould_labels(demo_plan))
    assert text.count("MOULD turn") == count
    with pytest.raises(BadInput, match="no label to print"):
        labels_on_paper(demo_plan, SHEET, days=(date(2030, 1, 1), None))


def test_what_was_stripped_before_a_plan_was_made_anew_gets_a_label_only_where_a_first_day_is_told(
    small_plan: Plan,
) -> None:
    poured = datetime.fromisoformat("2027-04-05T08:24")
    block = BlockCast(cavity=1, mark="full", mix="light", batch=1)
    stripped, stands = (
        TurnBegun(mould=f"gang-2/0{number}", turn=1, strip=strip, blocks=(block,))
        for number, strip in ((1, poured + timedelta(days=1)), (2, None))
    )
    anew = replace(small_plan, begun=Begun(since=poured + timedelta(days=2), turns=(stripped, stands)))
    for kind in ("moulds", "racks"):
        now, told = (turns_on(labels_on_paper(anew, SHEET, [kind], days=(day, None))) for day in (None, poured.date()))
        assert told - now == {("gang-2/01", "1")}
        assert ("gang-2/02", "1") in now


def test_courses_laid_before_a_plan_was_made_anew_get_a_label_only_where_a_first_day_is_told(small_plan: Plan) -> None:
    casts = small_plan.tables.casts
    first = casts[(casts["part"] == "wall") & (casts["course"] == 1)]
    laid = datetime.fromisoformat("2027-05-06T15:00")
    turns = tuple(
        TurnBegun(mould=mould, turn=turn, strip=laid, blocks=tuple(
            BlockCast(cavity=row.cavity, mark=row.mark, mix=row.mix, batch=row.batch, laid=laid)
            for row in some.itertuples()
        ))
        for (mould, turn), some in first.groupby(["mould", "turn"])
    )  # fmt: skip
    anew = replace(small_plan, begun=Begun(since=laid, turns=turns))
    now, told = (turns_on(labels_on_paper(anew, SHEET, ["stacks"], days=(day, None))) for day in (None, DAY))
    assert told - now == {("wall", "1")}
    assert ("wall", "2") in now


def turns_on(labels: Sheet) -> set[tuple[str, ...]]:
    return {read_label_code(label["line"]).ids[:2] for sheet in labels.data["sheets"] for label in sheet}


def test_the_page_is_as_large_as_the_sheet_says(small_plan: Plan) -> None:
    sheet = small(page_width_mm=250.0, page_height_mm=300.0)
    document = pypdfium2.PdfDocument(print_labels(HEAD, labels_on_paper(small_plan, sheet)))
    assert tuple(side / 72 * 25.4 for side in document[0].get_size()) == pytest.approx((250, 300), abs=0.1)
    document.close()


def test_what_has_no_room_is_told_with_the_number_of_labels(small_plan: Plan) -> None:
    large = labels_on_paper(small_plan, small(label_width_mm=95.0, label_height_mm=60.0, columns=2, rows=4))
    assert lacks_said(HEAD, large) == ""
    narrow = labels_on_paper(small_plan, small(label_width_mm=48.0, label_height_mm=20.0))
    said = lacks_said(HEAD, narrow)
    total = sum(map(len, narrow.data["sheets"]))
    assert re.match(rf"\d+ of {total} labels have no room for all there is to say\. Left out: .*weekdays on \d+", said)


def test_tails_of_letters_stay_clear_of_the_line_below(small_plan: Plan) -> None:
    document = pypdfium2.PdfDocument(print_labels(HEAD, labels_on_paper(small_plan, SHEET, kinds=["moulds"])))
    text = document[0].get_textpage()
    letters = text.get_text_range()
    boxes = [text.get_charbox(index) for index in range(text.count_chars())]
    tails = [box for letter, box in zip(letters, boxes, strict=True) if letter == "g"]
    assert tails
    for left, bottom, right, _ in tails:
        below = [top for x0, y0, x1, top in boxes if x0 < right and x1 > left and y0 < bottom < top]
        assert not below
    document.close()
