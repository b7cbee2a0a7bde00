"""What the page and the reliability read back of the joined tables."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pandas as pd

from imucarry.basics.settings import CarrySettings
from imucarry.cohort.gather import Scored, groups_of
from imucarry.cohort.results import (
    names_of,
    read_bouts,
    read_scores,
    visits_in_order,
    write_reliability,
)
from imucarry.cohort.schema import RELIABILITY
from imucarry.cohort.task import Outcome
from imucarry.readers.sheets import ManifestRow
from imucarry.report.cohort.data import with_condition
from imucarry.tables.schema import BOUT_SUMMARY, SCORES
from imucarry.tables.text import safe_text

PEOPLE = ("1", "01", "001", "NA", "nan", "1.0", "", "None", "true")


def write_tables(folder: Path) -> None:
    """Write two bouts a person of people whose codes look like numbers or like nothing."""
    scores, bouts = [], []
    for number, person in enumerate(PEOPLE):
        for bout in ("0", "00"):
            who = {"participant": person, "session": "0", "bout": bout}
            bouts.append(
                {**who, "hold": "free", "loaded_side": "none", "load_kg": "0.00", "start_s": bout}
            )
            named = {"measure": "cadence", "side": "none", "unit": "{steps}/min"}
            scores.append({**who, **named, "value": str(100 + number)})
            scores.append({**who, **named, "measure": "speed", "value": ""})
    columns = (SCORES, scores, "cohort_scores.csv"), (BOUT_SUMMARY, bouts, "cohort_bouts.csv")
    for table, rows, name in columns:
        pd.DataFrame(rows, columns=names_of(table)).to_csv(folder / name, index=False)


def test_codes_stay_as_they_were_written(tmp_path: Path) -> None:
    write_tables(tmp_path)
    scores, bouts = read_scores(tmp_path), read_bouts(tmp_path)
    assert scores["participant"].tolist() == [person for person in PEOPLE for _ in range(2)]
    assert scores["bout"].tolist() == ["0", "00"] * len(PEOPLE)
    assert bouts["participant"].tolist() == scores["participant"].tolist()
    joined = with_condition(scores, bouts)
    assert len(joined) == 2 * len(PEOPLE)
    assert (joined["hold"] == "free").all()


def test_people_whose_codes_look_alike_are_not_one(tmp_path: Path) -> None:
    write_tables(tmp_path)
    rows = write_reliability(tmp_path, read_scores(tmp_path), {(name, "0"): 0 for name in PEOPLE})
    assert rows["n_participants"].tolist() == [len(PEOPLE)]
    assert rows["missing_because"].tolist() == ["fewer_than_10_participants"]
    written = pd.read_csv(tmp_path / RELIABILITY.file)
    assert written["mean"].tolist() == [100 + (len(PEOPLE) - 1) / 2]


def test_the_sessions_date_orders_the_visits_before_the_manifests_and_a_sheets(
    tmp_path: Path,
) -> None:
    bouts, scores, scored = [], [], []
    for person in ("P1", "P2", "=P3"):
        dates = {"a": ("2026-03-01", "2026-03-02"), "b": ("2026-03-02", "2026-03-01")}
        for (visit, value), name in zip((("a", 110), ("b", 100)), dates, strict=True):
            who = {"participant": safe_text(person), "session": visit, "bout": "1"}
            walk = {"hold": "free", "loaded_side": "none", "load_kg": "0.00", "start_s": "0"}
            bouts.append({**who, **walk, "date": dates["ab".replace(name, "")][0]})
            named = {"measure": "cadence", "side": "none", "unit": "{steps}/min"}
            scores.append({**who, **named, "value": value})
            own, manifest = dates[name]
            scored.append(Scored(person, visit, tmp_path, {"date": manifest}, own))
    own_columns = names_of(BOUT_SUMMARY)
    pd.DataFrame(bouts, columns=[*own_columns, "date"]).to_csv(
        tmp_path / "cohort_bouts.csv", index=False
    )
    pd.DataFrame(scores, columns=names_of(SCORES)).to_csv(
        tmp_path / "cohort_scores.csv", index=False
    )
    order, told = visits_in_order(scored, "study.csv")
    assert told == []
    rows = write_reliability(tmp_path, read_scores(tmp_path), order)
    assert rows["order_effect"].tolist() == [-10.0]  # visit a came first
    undated = [replace(item, date="") for item in scored]
    rows = write_reliability(
        tmp_path, read_scores(tmp_path), visits_in_order(undated, "study.csv")[0]
    )
    assert rows["order_effect"].tolist() == [10.0]  # so says the manifest


def test_a_session_that_failed_has_its_place_by_its_own_file_or_by_the_manifest(
    tmp_path: Path,
) -> None:
    scored = [Scored("P1", name, tmp_path, {}, f"2026-03-0{name}") for name in "13"]
    (tmp_path / "session.toml").write_text(
        'participant = "P1"\nsession = "2"\ndate = 2026-03-02\n'
        '[[sensor]]\nplacement = "chest"\nfile = "chest.csv"\n'
    )
    gone = tmp_path / "gone"
    extra = (("participant", "P1"), ("date", "2026-03-02"))
    outcome = Outcome(0, "SessionError", "is not there")
    for row in (ManifestRow("a", tmp_path, 2), ManifestRow("a", gone, 2, extra)):
        order, told = visits_in_order(scored, "study.csv", [(row, outcome)])
        assert order == {("P1", "1"): 0, ("P1", "3"): 2}
        assert told == []
    order, _ = visits_in_order(scored, "study.csv", [(ManifestRow("a", gone, 2), outcome)])
    assert order == {("P1", "1"): 0, ("P1", "3"): 1}  # nobody says whose it was


def test_a_table_without_rows_is_read(tmp_path: Path) -> None:
    for table, name in ((SCORES, "cohort_scores.csv"), (BOUT_SUMMARY, "cohort_bouts.csv")):
        (tmp_path / name).write_text(",".join(names_of(table)) + "\n")
    scores = read_scores(tmp_path)
    assert scores.empty
    assert write_reliability(tmp_path, scores, {}).empty


def test_the_limit_of_pain_is_that_of_the_settings(tmp_path: Path) -> None:
    write_tables(tmp_path)
    bouts = pd.read_csv(tmp_path / "cohort_bouts.csv", dtype=str, keep_default_na=False)
    bouts.assign(pain_0_10="2.0").to_csv(tmp_path / "cohort_bouts.csv", index=False)
    order = {(name, "0"): 0 for name in PEOPLE}
    for limit_0_10, told in ((1.0, True), (2.0, False)):
        settings = CarrySettings(pain_limit_0_10=limit_0_10)
        rows = write_reliability(tmp_path, read_scores(tmp_path), order, settings)
        assert ["early_stop" in warning for warning in rows["warning"]] == [told]


def test_groups_are_the_manifests_however_they_are_spelt(tmp_path: Path) -> None:
    cells = (("P1", "Mobility"), ("P1", "mobility "), ("P2", "control"), ("=P3", ""))
    scored = [
        Scored(who, str(k), tmp_path, {"group": group}) for k, (who, group) in enumerate(cells)
    ]
    found = groups_of([*scored, Scored("P4", "1", tmp_path, {})])
    assert len(found["P1"]) == len(found["P2"]) == 1
    assert found["P1"] != found["P2"]
    assert found[safe_text("=P3")] == found["P4"] == frozenset()
    write_tables(tmp_path)
    order = {(name, "0"): 0 for name in PEOPLE}
    groups = {"1": frozenset("a"), "01": frozenset("b")}
    rows = write_reliability(tmp_path, read_scores(tmp_path), order, groups=groups)
    assert rows["warning"].tolist() == ["fewer_than_30_participants;groups_pooled"]
