"""Names of readings as shops write them: common practice, no source."""

from __future__ import annotations

import pytest

from diagnose.words.reader import Reader


@pytest.mark.parametrize(
    ("name", "text", "entry"),
    [
        ("pour temp", "1340 C", "pouring-temperature"),
        ("Pouring Temp.", "2450 F", "pouring-temperature"),
        ("tap temp", "1480", "tapping-temperature"),
        ("perm", "85", "sand-permeability"),
        ("permeability", "85", "sand-permeability"),
        ("Mg", "0.042", "residual-magnesium"),
        ("S", "0.08 %", "sulphur"),
        ("CE", "4.1", "carbon-equivalent"),
        ("LOI", "4.5", "sand-loss-on-ignition"),
        ("GFN", "62", "sand-fineness"),
        ("live clay", "7.5", "sand-live-clay"),
        ("GCS", "12 psi", "sand-green-strength"),
        ("moist %", "3,6", "sand-moisture"),
        ("hardness HB", "210", "brinell-hardness"),
        ("mould hardness", "85", "mould-hardness"),
    ],
)
def test_what_shops_call_them(reader: Reader, name: str, text: str, entry: str) -> None:
    assert reader.gauges.named(name, text).sure == entry


def test_a_name_that_could_be_two_things_is_neither(reader: Reader) -> None:
    """Hardness 85 may be of the mould or, by its number, of a casting: HB or B would tell."""
    named = reader.gauges.named("hardness", "85")
    assert named.sure == ""
    assert {entry for entry, _ in named.candidates[:2]} == {"mould-hardness", "brinell-hardness"}


def test_a_reading_that_cannot_be_is_not_of_that_measurement(reader: Reader) -> None:
    assert reader.gauges.can_be("sand-moisture", "4.6 %")
    assert not reader.gauges.can_be("sand-moisture", "46 %")
    assert not reader.gauges.can_be("sand-moisture", "4.6 kg")
    assert reader.gauges.named("moist", "1340 C").sure != "sand-moisture"


def test_what_no_book_knows_is_nothing(reader: Reader) -> None:
    assert reader.gauges.named("colour of the paint", "3 tins").sure == ""
    assert reader.gauges.named("", "3").sure == ""


def test_a_reading_is_taken_out_of_a_phrase(reader: Reader) -> None:
    (heard,) = reader.hear(["blows in the cope, moisture 5.8 %"])
    assert [(one.id, one.text) for one in heard.amounts] == [("sand-moisture", "5.8 %")]
