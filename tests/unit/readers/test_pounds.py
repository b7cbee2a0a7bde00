"""Loads in pounds are asked about, never taken for kg in silence."""

from __future__ import annotations

from pathlib import Path

import pytest

from imucarry.basics.errors import SessionError
from imucarry.readers.sheets import read_bouts

HEADER = "bout,start_s,end_s,hold,loaded_side,load_kg,aim,left_load_kg,right_load_kg,implement,note"


def told(folder: Path, *rows: str, header: str = HEADER) -> list[str]:
    path = folder / "bouts.csv"
    path.write_text("\n".join([header, *rows]) + "\n")
    _, notices = read_bouts(path)
    return [item.message for item in notices if item.code == "load_in_pounds"]


@pytest.mark.parametrize(
    "name", ["load_lb", "load_lbs", "Load (lb)", "load pounds", "weight_lbs", "LB"]
)
def test_a_header_in_pounds_is_no_slip_of_the_pen(tmp_path: Path, name: str) -> None:
    with pytest.raises(SessionError) as caught:
        told(tmp_path, header=HEADER.replace(",load_kg", f",{name}"))
    message = caught.value.message
    assert f"multiply the pounds of {name!r} by 0.4536 and name the column load_kg" in message
    assert "did you mean" not in message


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("overhead 18 lb,0,9,overhead,left,18,,,,,",
         "overhead 18 lb: the name says 18 lb, which is 8.2 kg; load_kg says 18. Which is right?"),
        ("carry_26lbs,0,9,rack,left,26,,,,,", "the name says 26lbs, which is 11.8 kg"),
        ("a,0,9,farmer,both,70,,,,2x35 lb kettlebells,",
         "the implement says 2x35 lb, 70 lb in all, which is 31.8 kg; load_kg says 70"),
        ("a,0,9,farmer,both,70,,,,,35 lb each hand",
         "the note says 35 lb, 70 lb in all, which is 31.8 kg; load_kg says 70"),
        ("a,0,9,farmer,both,88,,35,53,35 pounds and 53 lb,",
         "the implement says 35 pounds, which is 15.9 kg; left_load_kg says 35"),
    ],
)  # fmt: skip
def test_pounds_typed_as_kg_are_asked_about(tmp_path: Path, row: str, said: str) -> None:
    (message,) = told(tmp_path, row)
    assert message.endswith(". Which is right?")
    assert said in message


@pytest.mark.parametrize(
    "row",
    [
        "overhead 18 lb,0,9,overhead,left,8.2,,,,,",
        "a,0,9,farmer,both,31.8,,15.9,15.9,2x35 lb,",
        "a,0,9,rack,left,18,,,,118 lb lobby,",
        "a,0,9,rack,left,18,,,,18 lbx,",
        "lb 18,0,9,rack,left,18,,,,,",
        "a,0,9,free,none,,,,,,0 lb",
    ],
)
def test_pounds_beside_their_kg_are_right(tmp_path: Path, row: str) -> None:
    assert told(tmp_path, row) == []


def test_many_bouts_are_one_check(tmp_path: Path) -> None:
    rows = [f"{n} lb,{n * 10},{n * 10 + 9},rack,left,{n},,,,," for n in range(11, 20)]
    (message,) = told(tmp_path, *rows)
    assert message.startswith("11 lb: the name says 11 lb, which is 5.0 kg; load_kg says 11.")
    assert message.endswith(
        " Which is right? The same in 12 lb (5.4 kg), 13 lb (5.9 kg), 14 lb"
        " (6.4 kg), 15 lb (6.8 kg), 16 lb (7.3 kg), 17 lb (7.7 kg), 2 more"
    )


def test_hands_and_total_that_were_rounded_apart_fit(tmp_path: Path) -> None:
    assert told(tmp_path, "a,0,9,farmer,both,24.0,,8.2,15.9,18 lb and 35 lb,") == []
    with pytest.raises(SessionError, match=r"sum to 24.1, load_kg is 23.9"):
        told(tmp_path, "a,0,9,farmer,both,23.9,,8.2,15.9,,")
