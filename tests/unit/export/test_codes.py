"""What people wrote is replaced by codes, the same wherever it stands."""

from __future__ import annotations

import pytest
from scores_builder import build_scores

from imucarry.basics.errors import OutputError
from imucarry.export import EXPORTS
from imucarry.export.codes import Codes, coded, codes_of
from imucarry.export.labels import Labels

CODES = Codes(
    bouts={"Anna's walk": "1", "a;b": "2", "c": "3"},
    implements={"blue bell": "implement1"},
    tests={"flexion": "flexion", "Anna's test": "test2"},
)


def test_every_column_that_people_write_is_coded() -> None:
    table = {
        "bout": ["Anna's walk", "a;b", "c"],
        "baseline_bouts": ["Anna's walk;c", "", "a;b"],
        "baseline": ["c", None, ""],
        "implement": ["blue bell", "", "unlisted"],
        "test": ["flexion", "Anna's test", ""],
        "note": ["Anna was tired", "", "x"],
        "stop_reason": ["Anna", "", "x"],
        "load_kg": [1.0, 2.0, 3.0],
    }
    assert coded(table, CODES) == {
        "bout": ["1", "2", "3"],
        "baseline_bouts": ["1;3", "", "2"],
        "baseline": ["3", "", ""],
        "implement": ["implement1", "", ""],
        "test": ["flexion", "test2", ""],
        "note": ["", "", ""],
        "stop_reason": ["", "", ""],
        "load_kg": [1.0, 2.0, 3.0],
    }


def test_codes_are_numbers_in_order_and_known_tests_keep_their_names() -> None:
    scores = build_scores()
    codes = codes_of(scores)
    names = [bout.data.row.bout for bout in scores.bouts]
    assert [codes.bouts[name] for name in names] == [str(k + 1) for k in range(len(names))]
    assert all(code.startswith("implement") for code in codes.implements.values())
    assert set(codes.tests.values()) <= {
        *("flexion", "abduction", "internal_rotation", "external_rotation"),
        *(f"test{k}" for k in range(1, 9)),
    }


@pytest.mark.parametrize("label", ["", "a b", "a/b", "P_1", "ü", "a\n"])
def test_labels_are_letters_and_digits(label: str) -> None:
    with pytest.raises(OutputError, match="letters and digits"):
        Labels(participant=label)


def test_every_export_has_a_name_and_a_title() -> None:
    assert len({export.name for export in EXPORTS}) == len(EXPORTS)
    assert all(export.title for export in EXPORTS)
