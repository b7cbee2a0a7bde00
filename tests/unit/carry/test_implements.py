from imucarry.carry.implements import as_first_written, implement_key


def test_case_and_spaces_do_not_part_implements() -> None:
    assert implement_key(" Kettle Bell") == implement_key("kettlebell")
    assert implement_key("kettlebell") != implement_key("dumbbell")


def test_each_is_written_as_it_was_first() -> None:
    written = ["Kettlebell", "sandbag", "kettlebell ", "", "KETTLE BELL"]
    assert list(as_first_written(written)) == [
        "Kettlebell",
        "sandbag",
        "Kettlebell",
        "",
        "Kettlebell",
    ]
