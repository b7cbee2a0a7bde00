"""``imucarry agree``: bouts and strides of two systems, as lines, as JSON, as a picture."""

from __future__ import annotations

import json
import subprocess
import warnings
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pandas as pd
import pytest
from command_line import imucarry

from imucarry.tables.documents import agree_schema

# Bland & Altman 1986, Lancet i:307-310, table 1: first readings of peak expiratory flow
# [l/min] with two meters in 17 persons. Printed: bias -2.1, SD of differences 38.8.
LARGE = (494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
MINI = (512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)
BIAS, SD = -2.1, 38.8
YAW = "sternum_yaw_range_deg"


def bouts(values: tuple[int, ...]) -> pd.DataFrame:
    names = [f"P{k:02d}" for k in range(len(values))]
    return pd.DataFrame({"participant": names, "session": "1", "bout": "b", "flow": values})


def strides(n_persons: int, n_strides: int, seed: int, *, bias: float = 0.0) -> pd.DataFrame:
    """Strides of one bout a person: the same truth, own noise, a bias of each person's own."""
    truth, noise = np.random.default_rng(5), np.random.default_rng(seed)
    rows = [
        (f"P{person}", "1", "b", k + 1, 1.1 * k, value + own * bias + noise.normal(0, 0.3), "true")
        for person in range(n_persons)
        for own in [truth.normal(1.0, 0.5)]
        for k, value in enumerate(truth.normal(9.0, 1.0, n_strides))
    ]
    names = ["participant", "session", "bout", "stride", "start_s", YAW, "kept_yaw"]
    return pd.DataFrame(rows, columns=names)


def write(folder: Path, name: str, table: pd.DataFrame) -> Path:
    table.to_csv(folder / name, index=False)
    return folder / name


def document(a: Path, b: Path, measure: str) -> dict[str, Any]:
    done = imucarry("agree", a, b, "--measure", measure, "--json")
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    jsonschema.validate(found, agree_schema())
    assert set(found) == set(agree_schema()["properties"])
    return found


def test_bouts_of_persons_as_printed(tmp_path: Path) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), write(tmp_path, "b.csv", bouts(MINI))
    found = document(a, b, "flow")
    assert (found["level"], found["limits_for"], found["n_pairs"]) == ("bout", "persons", 17)
    limits = found["limits"]
    assert limits["bias"]["value"] == pytest.approx(BIAS, abs=0.05)  # printed with one decimal
    assert limits["sd"] == pytest.approx(SD, abs=0.05)
    assert limits["upper"]["value"] == pytest.approx(BIAS + 1.96 * SD, abs=0.15)
    assert limits["lower"]["value"] == pytest.approx(BIAS - 1.96 * SD, abs=0.15)
    differences = np.subtract(LARGE, MINI)
    assert found["rmse"] == pytest.approx(np.sqrt(np.mean(differences**2.0)))


def test_icc_is_that_of_a_statistics_library(tmp_path: Path) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), write(tmp_path, "b.csv", bouts(MINI))
    found = document(a, b, "flow")
    long = pd.concat([bouts(LARGE).assign(meter="a"), bouts(MINI).assign(meter="b")])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library's own
        pingouin = pytest.importorskip("pingouin")
        theirs = pingouin.intraclass_corr(long, "participant", "meter", "flow")
    # Its rows are ICC(1,1), (2,1), (3,1), ...
    assert found["icc_agreement"]["value"] == pytest.approx(theirs["ICC"].iloc[1], abs=1e-6)
    assert found["icc_consistency"]["value"] == pytest.approx(theirs["ICC"].iloc[2], abs=1e-6)


def test_summaries_of_bouts_are_matched_by_name_though_their_times_differ(tmp_path: Path) -> None:
    a = write(tmp_path, "a.csv", bouts(LARGE).assign(start_s=10.0))
    b = write(tmp_path, "b.csv", bouts(MINI).assign(start_s=12.0).iloc[::-1])
    assert document(a, b, "flow")["level"] == "bout"
    assert document(a, b, "flow")["n_pairs"] == len(LARGE)


def test_strides_are_matched_by_time_and_repeats_within_persons_allowed_for(tmp_path: Path) -> None:
    ours = strides(12, 20, 1, bias=1.0)
    theirs = strides(12, 20, 2).drop(columns="kept_yaw")
    theirs["start_s"] += 0.05
    theirs = theirs.sample(frac=1.0, random_state=3).iloc[:-5]
    a, b = write(tmp_path, "a.csv", ours), write(tmp_path, "b.csv", theirs)
    found = document(a, b, YAW)
    assert (found["level"], found["limits_for"]) == ("stride", "repeats_within_persons")
    assert (found["n_pairs"], found["n_only_a"], found["n_only_b"]) == (235, 5, 0)
    # Within a person both noises of 0.3, between persons biases of SD 0.5: in the limits
    # both count; treating strides as independent would narrow the interval of the bias.
    limits = found["limits"]
    assert limits["sd"] == pytest.approx(np.sqrt(2 * 0.3**2 + 0.5**2), rel=0.25)
    half = (limits["bias"]["high"] - limits["bias"]["low"]) / 2
    assert half > 2.0 * 1.96 * limits["sd"] / np.sqrt(found["n_pairs"])


def test_lines_and_picture(tmp_path: Path) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), write(tmp_path, "b.csv", bouts(MINI))
    picture = tmp_path / "agreement.svg"
    done = imucarry("agree", a, b, "--measure", "flow", "--picture", picture)
    assert done.returncode == 0, done.stderr
    assert "17 pairs, one a bout" in done.stdout
    assert "bias                  -2.118" in done.stdout
    drawn = ElementTree.parse(picture).getroot()
    words = [text.text for text in drawn.iter("{http://www.w3.org/2000/svg}text")]
    assert {"bias -2.12", "upper limit 73.86", "lower limit -78.10"} <= set(words)
    dots = [p for p in drawn.iter("{http://www.w3.org/2000/svg}path") if p.get("class") == "d-pair"]
    assert [path.get("d", "").count("M") for path in dots] == [len(LARGE)]


def one_line(done: subprocess.CompletedProcess[str], word: str) -> None:
    assert done.returncode == 65, done.stdout
    assert word in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


def test_what_cannot_be_compared_is_one_line(tmp_path: Path) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), write(tmp_path, "b.csv", bouts(MINI))
    one_line(imucarry("agree", a, b, "--measure", "flaw"), "no value of 'flaw'")
    broken = tmp_path / "broken.csv"
    broken.write_bytes(b"\x00\xff\xfe\x00")
    one_line(imucarry("agree", a, broken, "--measure", "flow"), "broken.csv")
    nameless = write(tmp_path, "c.csv", bouts(MINI)[["flow"]])
    one_line(imucarry("agree", a, nameless, "--measure", "flow"), "has no column participant")
    nowhere = tmp_path / "a.csv" / "picture.svg"
    done = imucarry("agree", a, b, "--measure", "flow", "--picture", nowhere)
    one_line(done, "a file stands where a folder")


def test_too_few_pairs_say_so(tmp_path: Path) -> None:
    a = write(tmp_path, "a.csv", bouts(LARGE[:2]))
    b = write(tmp_path, "b.csv", bouts(MINI[:2]))
    done = imucarry("agree", a, b, "--measure", "flow", "--picture", tmp_path / "p.svg")
    assert done.returncode == 0, done.stderr
    assert "nothing can be said" in done.stdout
    assert document(a, b, "flow")["limits"] is None


def test_a_picture_never_takes_the_place_of_a_table(tmp_path: Path) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), write(tmp_path, "b.csv", bouts(MINI))
    (tmp_path / "linked.svg").symlink_to(b)
    before = b.read_bytes()
    for picture in (a, b, tmp_path / "." / "b.csv", tmp_path / "linked.svg"):
        done = imucarry("agree", a, b, "--measure", "flow", "--picture", picture)
        one_line(done, "name another file for the picture")
    assert b.read_bytes() == before
    # As every other output, a picture may name a folder that is to be made.
    new = tmp_path / "new" / "picture.svg"
    assert imucarry("agree", a, b, "--measure", "flow", "--picture", new).returncode == 0
    assert new.is_file()


def test_what_holds_no_numbers_or_no_pairs_is_one_line(tmp_path: Path) -> None:
    ours = strides(2, 6, 1).assign(drop_reason="")
    ours.loc[3, "drop_reason"] = "start"
    a = write(tmp_path, "a.csv", ours)
    one_line(imucarry("agree", a, a, "--measure", "drop_reason"), "'start' in row 4")
    late = write(tmp_path, "late.csv", ours.assign(start_s=ours["start_s"] + 1000.0))
    one_line(imucarry("agree", a, late, "--measure", YAW), "put both on one clock")


@pytest.mark.parametrize(("separator", "decimal"), [(";", ","), (";", "."), ("\t", ",")])
def test_tables_as_spreadsheets_of_other_countries_write_them(
    tmp_path: Path, separator: str, decimal: str
) -> None:
    a, b = write(tmp_path, "a.csv", bouts(LARGE)), tmp_path / "b.csv"
    ours = bouts(MINI).assign(flow=np.add(MINI, 0.5))
    ours.loc[0, "flow"] -= 0.5
    ours.to_csv(b, sep=separator, decimal=decimal, index=False)
    # The first row may hold whole numbers, as a first stride that starts at 0.
    b.write_text(b.read_text().replace(f"{MINI[0]}{decimal}0", str(MINI[0])))
    found = document(a, b, "flow")
    assert found["n_pairs"] == len(LARGE)
    assert found["limits"]["bias"]["value"] == pytest.approx(BIAS - 0.5, abs=0.1)


def test_a_page_is_no_table(tmp_path: Path) -> None:
    a, page = write(tmp_path, "a.csv", bouts(LARGE)), tmp_path / "report.html"
    page.write_text("<html>\n<p>1</p>\n<p>4, 5</p>\n", encoding="utf-8")
    one_line(imucarry("agree", a, page, "--measure", "flow"), "report.html")
