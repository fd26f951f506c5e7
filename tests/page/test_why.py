"""What the page says of the duty and of why an arm cracked."""

from analysis.page.bores import answers
from analysis.tables.files import write_csv


def test_why_it_cracked_and_what_the_duty_asks_stand_among_the_answers(tmp_path):
    ask = "the duty hardly varies: is each lift unloaded?"
    write_csv(tmp_path / "duty.csv", ("arm", "note"), [{"arm": "this arm", "note": ask}] * 2)
    rows = [
        {"crack": "rim", "part": "answer", "note": "the duty as given explains it."},
        {"crack": "rim", "part": "fatigue"},
    ]
    write_csv(tmp_path / "explained.csv", ("crack", "part", "note"), rows)
    assert answers(tmp_path, tmp_path / "none") == [
        f"Duty: {ask}",
        "Why it cracked, rim: the duty as given explains it.",
    ]
