"""An order file read with its lists."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
import xlsxwriter

from blockrun.errors import BadInput
from blockrun.files.yaml import read_yaml
from blockrun.order import MixSpec, Order, WallPart, digest_order, load_order, order_schema, takeoff

CONFIGS = Path(__file__).parents[2] / "configs"
Load = Callable[..., Order]
Refuse = Callable[..., BadInput]
HEADER = "mark,length_mm,height_mm,thickness_mm,count"


def test_every_value_is_kept(order: Load):
    found = order()
    assert (found.name, found.spares) == ("Tool store", Decimal("0.05"))
    base, wall = found.mixes
    assert (wall.oven_dry_density_kg_m3, wall.wet_density_kg_m3, wall.slurry_water_cement) == (600.0, None, 0.5)
    assert (base.name, base.wet_density_kg_m3) == ("base", 900.0)
    part = found.parts[0]
    assert part.needed is not None
    assert (part.needed.from_day, part.needed.courses_a_day) == (date(2027, 5, 12), Fraction(2))
    row = part.blocks.rows[3]
    assert (row.mark, row.size_mm, row.count, row.mix) == ("A", (600.0, 300.0, 200.0), 12, None)
    assert (row.course, row.needed) == (3, date(2027, 5, 20))


@pytest.mark.parametrize(("bearing", "least_mm"), [("", 203.2), (", bearing: 200 mm", 200.0)])
def test_a_bearing_in_a_file_is_known_from_one_that_it_does_not_say(order: Load, bearing: str, least_mm: float):
    block = "block: 24 x 12 x 8 in, joint: 3/8 in, mix: wall"
    part = f"  - {{wall: low, length: 14 ft, height: 6 ft 2 in, {block}{bearing}}}\n"
    found = order(("parts:\n", "parts:\n" + part))
    (wall,) = (part for part in found.parts if isinstance(part, WallPart))
    assert wall.least_bearing_mm == pytest.approx(least_mm)


def test_the_files_read_are_named(order: Load, tmp_path: Path):
    assert order().sources == {"": tmp_path / "order.yaml", "blocks.csv": tmp_path / "blocks.csv"}


def test_a_list_that_was_moved_is_read_where_it_lies(order: Load, tmp_path: Path):
    before = takeoff(order())
    moved = (tmp_path / "blocks.csv").rename(tmp_path / "copy.csv")
    assert takeoff(load_order(tmp_path / "order.yaml", files={"blocks.csv": moved})) == before


@pytest.mark.parametrize(
    ("unit", "length"), [("mm", "406.4"), ("cm", "40.64"), ("m", "0.4064"), ("in", "16"), ("ft", "1.33333333333333")]
)
def test_the_header_names_the_unit_of_each_side(order: Load, unit: str, length: str):
    found = order(blocks=f"mark,length_{unit},height_in,thickness_cm,count\nA,{length},8,20,3\n")
    assert found.parts[0].blocks.rows[0].size_mm == pytest.approx((406.4, 203.2, 200.0))


@pytest.mark.parametrize(("unit", "length"), [("in", "15 5/8"), ("in", "15⅝"), ("ft", "1 7/24"), ("in", "125/8")])
def test_a_side_may_be_a_mixed_number(order: Load, unit: str, length: str):
    found = order(blocks=f"mark,length_{unit},height_in,thickness_in,count\nA,{length},7 5/8,3 1/2,3\n")
    height, thickness = 193.675, 88.9
    assert found.parts[0].blocks.rows[0].size_mm == pytest.approx(
        (393.7 if unit == "ft" else 396.875, height, thickness)
    )


def test_the_longest_side_is_told_in_the_unit_of_its_column(refusal: Refuse):
    error = refusal(blocks="mark,length_in,height_in,thickness_in,count\nA,500,8,8,3\n")
    assert (error.what, error.todo) == (
        "length_in: 500 is no side of a block",
        "Write a length from 0.787 in to 393.7 in.",
    )


def test_a_file_of_semicolons_may_have_decimal_commas(order: Load):
    found = order(blocks=f"{HEADER}\n".replace(",", ";") + "A;600,5;300;200;3\n")
    assert found.parts[0].blocks.rows[0].length_mm == 600.5


def test_a_workbook_gives_the_same_lines_as_the_csv(order: Load, tmp_path: Path):
    before = takeoff(order())
    with xlsxwriter.Workbook(tmp_path / "blocks.xlsx") as book:
        sheet = book.add_worksheet()
        for number, line in enumerate((tmp_path / "blocks.csv").read_text().splitlines()):
            for column, cell in enumerate(line.split(",")):
                sheet.write(number, column, int(cell) if cell.isdigit() else cell)
    assert takeoff(order(("blocks.csv", "blocks.xlsx"))) == before


@pytest.mark.parametrize("count", ["3", "3.0", " 3 "])
def test_a_whole_number_may_be_written_as_other_programs_do(order: Load, count: str):
    assert order(blocks=f"{HEADER}\nA,600,300,200,{count}\n").parts[0].blocks.rows[0].count == 3


@pytest.mark.parametrize(
    ("old", "new", "said", "line"),
    [
        ("slurry_water_cement: 0.50", "water_cement: 0.2", "water_cement is under 0.30: too dry to mix", 3),
        (
            "slurry_water_cement: 0.50",
            "slurry_water_cement: 0.50, water_cement: 0.6",
            "slurry_water_cement and water_cement are given together",
            3,
        ),
        (", slurry_water_cement: 0.50", "", "mix wall: a ratio of water is missing", 3),
        (
            "slurry_water_cement: 0.50",
            "slurry_water_cement: 0.50, fly_ash: 1",
            "slurry_water_cement is under 0.60, as fly ash and lime want water too: too dry to mix",
            3,
        ),
        (
            "slurry_water_cement: 0.50",
            "slurry_water_cement: 0.50, sand_density: 2.65 kg/m3",
            "2.65 kg/m3 is out of range",
            3,
        ),
        ("oven_dry_density: 600 kg/m3", "strength: 600 kg/m3", "kg/m3", 3),
        (
            "slurry_water_cement: 0.50",
            "slurry_water_cement: 0.2",
            "slurry_water_cement is under 0.30: too dry to mix",
            3,
        ),
        ("slurry_water_cement: 0.50", "slurry_water_cement: 1/2", "1/2 is not a plain number", 3),
        ("oven_dry_density: 600 kg/m3, ", "", "mix wall: a density is missing", 3),
        ("oven_dry_density: 600 kg/m3", "oven_dry_density: 600", "600 has no unit, and a density needs one", 3),
        (
            "wet_density: 900 kg/m3",
            "wet_density: 900 kg/m3, oven_dry_density: 800 kg/m3",
            "oven_dry_density and wet_density are given together",
            4,
        ),
        ("name: base", "name: wall", "two mixes are called wall", 4),
        ("spares: 5 %", "spares: 0.05", "spares: 0.05 is not a percentage", 5),
        ("  - list: blocks.csv", "  - wall: north\n    list: blocks.csv", "unknown key wall", 7),
        (
            "  - list: blocks.csv",
            "  - {dome: store}\n  - list: blocks.csv",
            "inside_diameter is missing",
            7,
        ),
        ("list: blocks.csv", "list: block.csv", "list: there is no file block.csv", 7),
        ("list: blocks.csv", "list:", "list: a block list is due", 7),
        ("list: blocks.csv", "lists: blocks.csv", "a drawing, and this is none of them", 7),
        ("mix: wall\n", "mix: wal\n", "there is no mix wal", 8),
        ("courses_a_day: 2", "courses_a_day: 0", "courses_a_day: 0 is out of range", 9),
        ("from: 2027-05-12", "from: soon", "from: soon is not a date", 9),
    ],
)
def test_a_wrong_order_is_refused_at_its_line(refusal: Refuse, old: str, new: str, said: str, line: int):
    error = refusal((old, new))
    assert any(said in fault.what and fault.line == line for fault in error.all())


@pytest.mark.parametrize(
    ("row", "said", "column"),
    [
        ("A,600,300,200,-1", "count: -1 is not from 1 to 1000000", 15),
        ("A,600,300,200,0", "count: 0 is not from 1 to 1000000", 15),
        ("A,600,300,200,1.5", "count: 1.5 is not a whole number", 15),
        ("A,600,300,200,", "count: is empty", 15),
        ("A,600,300,200,1e3", "count: 1e3 is not a whole number", 15),
        ("A,600,300,200,9999999", "count: 9999999 is not from 1 to 1000000", 15),
        ("A,600,300,200,3,,x", "course: x is not a whole number", 18),
        ("A,600,300,200,3,,0", "course: 0 is not from 1 to 1000", 18),
        ("A,600,300,200,3,,1,12/05/2027", "needed: 12/05/2027 is not a date", 20),
        ("A,600,300,200,3,,1,2027-13-01", "needed: 2027-13-01 is not a day of the calendar", 20),
        ("A,600,300,200,3,brick", "there is no mix brick", 17),
        (",600,300,200,3", "mark: is empty", 1),
        ("A,0,300,200,3", "length_mm: 0 is no side of a block", 3),
        ("A,600,-300,200,3", "height_mm: -300 is no side of a block", 7),
        ("A,600,300,nan,3", "thickness_mm: nan is not a plain number", 11),
        ("A,99999,300,200,3", "length_mm: 99999 is no side of a block", 3),
        ("A,600,1/0,200,3", "height_mm: 1/0 is not a number or a fraction", 7),
        ("A,600,300,200 cm,3", "thickness_mm: 200 cm is not in mm, as its column is", 11),
        ("A,600,300,200 each,3", "thickness_mm: 200 each is not a plain number", 11),
    ],
)
def test_a_wrong_cell_is_refused_at_its_row_and_column(refusal: Refuse, row: str, said: str, column: int):
    names = f"{HEADER},mix,course,needed"
    row += "," * (names.count(",") - row.count(","))
    error = refusal(blocks=f"{names}\nOK,600,300,200,3,,,\n{row}\n")
    assert (said in error.what, error.line, error.column) == (True, 3, column)
    assert str(error.file).endswith("blocks.csv")


def test_a_mark_with_two_sizes_shows_both_rows(refusal: Refuse):
    error = refusal(blocks=f"{HEADER}\nA,600,300,200,3\nB,600,300,200,1\nA,600,300,190,3\n")
    assert error.what == "mark A is 600 x 300 x 190 mm here and 600 x 300 x 200 mm in row 2 of blocks.csv"
    assert error.line == 4


def test_two_sizes_of_a_mark_are_told_in_the_unit_of_the_list(refusal: Refuse):
    rows = "mark,length_in,height_in,thickness_in,count\nA,16,8,8,3\nA,15 5/8,8,8,3\n"
    assert refusal(blocks=rows).what == "mark A is 15.625 x 8 x 8 in here and 16 x 8 x 8 in in row 2 of blocks.csv"


def test_a_mark_with_two_sizes_in_two_lists_is_refused(refusal: Refuse, tmp_path: Path):
    (tmp_path / "more.csv").write_text(f"{HEADER}\nA,600,300,100,3\n")
    error = refusal(("parts:\n", "parts:\n  - {list: more.csv, mix: base}\n"))
    assert "mark A is 600 x 300 x 200 mm here and 600 x 300 x 100 mm in row 2 of more.csv" in str(error)


def test_rows_of_a_list_do_not_join_a_wall_of_their_name(refusal: Refuse):
    wall = "parts:\n  - {wall: yard, length: 4 m, height: 1 m, block: 600 x 300 x 200 mm, joint: 10 mm, mix: base}\n"
    rows = f"{HEADER},mix,part\nA,600,300,200,3,wall,house\nA,600,300,200,3,wall,yard\n"
    error = refusal(("parts:\n", wall), blocks=rows)
    assert (error.what, error.line) == ("a part that is laid out from its measures is called yard too", 3)


def test_a_mark_may_be_cast_of_two_mixes(order: Load):
    found = order(blocks=f"{HEADER},mix\nA,600,300,200,3,wall\nA,600,300,200,3,base\n")
    assert [line.mix for line in takeoff(found)] == ["base", "wall"]


def test_the_only_mix_needs_no_naming(order: Load):
    edits = [("  - {name: base, wet_density: 900 kg/m3, slurry_water_cement: 0.45}\n", ""), ("    mix: wall\n", "")]
    assert takeoff(order(*edits, blocks=f"{HEADER}\nA,600,300,200,3\n"))[0].mix == "wall"


def test_a_row_without_a_mix_is_refused_when_there_are_several(refusal: Refuse):
    error = refusal(("    mix: wall\n", ""), blocks=f"{HEADER}\nA,600,300,200,3\n")
    assert (error.what, error.line) == ("no mix is named, and the order has several", 2)


def test_a_misspelt_column_is_never_left_out_in_silence(refusal: Refuse):
    error = refusal(blocks=f"{HEADER},coarse\nA,600,300,200,3,1\n")
    assert (error.what, error.todo) == ("unknown column coarse", "Did you mean course? Else take it out of the file.")


def test_faults_of_the_order_and_of_its_lists_are_said_together(refusal: Refuse):
    error = refusal(("spares: 5 %", "spares: five"), blocks=f"{HEADER}\nA,600,300,200,x\nB,x,300,200,1\n")
    assert len(error.all()) == 3


def test_the_digest_depends_on_content_alone(order: Load):
    header, *rows = "mark,length_mm,height_mm,thickness_mm,count\nA,600,300,200,3\nB,300,300,200,2\n".splitlines()
    one = order(blocks="\n".join([header, *rows]))
    two = order(("order: Tool store", "# note\norder:  Tool store"), blocks="\n".join([header, *reversed(rows)]))
    other = order(blocks="\n".join([header, rows[0]]))
    digests = [digest_order(found, takeoff(found)) for found in (one, two, other)]
    assert digests[0] == digests[1]
    assert digests[0] != digests[2]


def test_the_schema_describes_the_keys_of_the_file():
    schema = order_schema()
    assert schema["required"] == ["order", "mixes", "parts"]
    part = schema["$defs"]["ListPart"]
    assert (part["required"], part["properties"]["list"]["type"]) == (["list"], "string")
    assert {"strength", "water_cement", "fly_ash", "sand_density"} <= schema["$defs"]["MixSpec"]["properties"].keys()
    assert schema["$defs"]["Need"]["properties"]["from"]["format"] == "date"


def test_each_ready_mix_is_one():
    mixes = read_yaml(CONFIGS / "mixes.yaml").data["mixes"]
    names = [MixSpec.model_validate(mix, by_alias=True, by_name=False).name for mix in mixes]
    assert names == ["light", "wall", "base", "as poured", "all the water", "sanded"]


def test_a_site_in_place_of_an_order_is_told_in_one_sentence():
    with pytest.raises(BadInput) as caught:
        load_order(CONFIGS / "small-yard.yaml")
    assert [fault.what for fault in caught.value.all()] == ["this file is a site, and an order is due here"]
    assert (caught.value.line, caught.value.column) == (4, 1)


def test_a_key_is_answered_with_the_one_like_it_that_must_be_there(refusal: Refuse):
    error = refusal(("  - list: blocks.csv", "  - {dome: store, diameter: 4 m}\n  - list: blocks.csv"))
    unknown = next(fault for fault in error.all() if fault.what == "unknown key diameter")
    assert unknown.todo == "Did you mean inside_diameter?"


def test_a_key_that_is_there_is_not_what_another_is_taken_for(refusal: Refuse):
    error = refusal(("  - list: blocks.csv", "  - {dome: store, joint: 10 mm, joint_lest: 6 mm}\n  - list: blocks.csv"))
    unknown = next(fault for fault in error.all() if fault.what == "unknown key joint_lest")
    assert unknown.todo == "Did you mean joint_least?"
