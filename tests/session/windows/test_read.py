"""The shop's own file: what it may say, and every fault with its place and the way out."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Scope, Window
from diagnose.session.windows.file import ShopFile
from diagnose.session.windows.read import LIMIT, read_shop
from tests import shipped
from tests.conftest import ROOT
from tests.shopbook import BOOK, GREEN, GREY, SHOP

BAD = sorted((Path(__file__).parent / "bad_shops").glob("*.yaml"))
HERE = Scope(metal=GREY, process=GREEN)
Read = Callable[[str], ShopFile]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def worked(text: str) -> ShopFile:
        path = tmp_path / "shop.yaml"
        path.write_text(text, encoding="utf-8", errors="surrogatepass")
        return read_shop(path, BOOK)

    return worked


@pytest.mark.parametrize("bad", BAD, ids=lambda path: path.stem)
def test_each_fault_is_told_with_its_place_and_the_way_out(bad: Path) -> None:
    with pytest.raises(Fault) as fault:
        read_shop(bad, BOOK)
    expected = [line[3:] for line in bad.read_text().splitlines() if line.startswith("#= ")]
    told = [
        f"{problem.place.line}:{problem.place.column} {problem.what} {problem.instead}".rstrip()
        for problem in fault.value.problems
    ]
    assert [line.removeprefix("0:0 ") for line in told] == expected
    assert expected
    assert {problem.place.file for problem in fault.value.problems} == {str(bad)}


def test_the_form_of_a_shop_file(read: Read) -> None:
    """2516 and 2606 degF are 1380 and 1430 degC; 90 degF of superheat are 50 K."""
    shop = read(SHOP)
    assert (shop.name, shop.metal, shop.process) == (
        "Brook Lane Foundry", "grey iron", "green sand",
    )  # fmt: skip
    own = ("the shop's own",)
    assert shop.windows == {
        "sand-moisture": (
            Window(source=("the shop's own: mill card of March",), low=3.0, high=3.8, scope=HERE),
        ),
        "pouring-temperature": (
            Window(
                source=own, low=1380.0, high=1430.0,
                scope=Scope(metal=GREY, process=GREEN, section=(None, 10)),
            ),
            Window(source=own, low=1340.0, high=1400.0, scope=HERE),
        ),
        "superheat": (Window(source=own, low=50.0, scope=HERE),),
        "sand-permeability": (Window(source=own, high=120.0, scope=HERE),),
    }  # fmt: skip
    assert shop.repeatability == {"sand-moisture": 0.1, "pouring-temperature": 5.0}


@pytest.mark.parametrize(
    ("text", "windows"),
    [
        ("shop: 1873", {}),
        ("windows:", {}),
        ("windows: {sand-moisture: {low: 3, unit: percent}}", {"sand-moisture": (3.0, None)}),
        ("windows: {Sand Moisture: {high: .5, unit: pct}}", {"sand-moisture": (None, 0.5)}),
        ("windows: {moisture: {low: 30000, unit: ppm}}", {"sand-moisture": (3.0, None)}),
        ("windows: {superheat: {low: 0, high: 80, unit: degC}}", {"superheat": (0.0, 80.0)}),
        ("windows: {permeability: {low: 60, unit: AFS}}", {"sand-permeability": (60.0, None)}),
        (
            "windows: {pouring temperature: {low: 1400, high: 1500, unit: K}}",
            {"pouring-temperature": (1126.85, 1226.85)},
        ),
    ],
)
def test_other_ways_to_write_it(
    read: Read, text: str, windows: dict[str, tuple[float | None, float | None]]
) -> None:
    found = read(text).windows
    assert {name: (own.low, own.high) for name, (own,) in found.items()} == windows


def test_a_shop_that_says_no_metal_means_its_windows_for_all(read: Read) -> None:
    shop = read("windows: {moisture: {low: 3, unit: '%'}}")
    (own,) = shop.windows["sand-moisture"]
    assert own.scope == Scope(metal=tuple(BOOK.metals), process=tuple(BOOK.processes))
    assert (shop.metal, shop.process) == ("", "")


def test_a_name_of_strange_characters_stays_on_one_line(read: Read) -> None:
    assert read('shop: "Brook\\nLane \\e[31m Foundry"').name == "Brook Lane [31m Foundry"


@pytest.mark.parametrize("name", ["none.yaml", "."])
def test_a_file_that_is_not_there_is_a_fault(tmp_path: Path, name: str) -> None:
    with pytest.raises(Fault, match=r"There is no such file|This is a folder"):
        read_shop(tmp_path / name, BOOK)


def test_a_file_too_big_is_refused(read: Read) -> None:
    with pytest.raises(Fault, match=r"bigger than 0\.1 MB"):
        read("#" * (LIMIT + 1))


VALUE = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8),
        st.sampled_from(["low", "moisture", "3 %", "degC", "grey iron"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.sampled_from(["low", "high", "unit", "section", "why", "moisture", "superheat"]),
            inner, max_size=4,
        ),
    ),
    max_leaves=8,
)  # fmt: skip


@given(
    st.dictionaries(
        st.sampled_from(["shop", "metal", "process", "windows", "repeatability", "x"]), VALUE
    )
)
def test_any_file_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: dict[str, object]
) -> None:
    """Whatever JSON says is YAML as well; what is read lies within what is possible."""
    path = tmp_path_factory.getbasetemp() / "any-shop.yaml"
    path.write_text(json.dumps(data), encoding="utf-8")
    try:
        shop = read_shop(path, BOOK)
    except Fault as fault:
        assert all(problem.place.file == str(path) for problem in fault.problems)  # noqa: PT017
        return
    for name, windows in shop.windows.items():
        least, most = BOOK.measurements[name].possible
        for window in windows:
            ends = [end for end in (window.low, window.high) if end is not None]
            assert ends
            assert ends == sorted(set(ends))
            assert all(least <= end <= most for end in ends)
    assert all(value > 0 for value in shop.repeatability.values())


def test_the_example_of_the_manual_is_read_with_the_book_of_the_program(tmp_path: Path) -> None:
    book = shipped.book()
    manual = (ROOT / "docs" / "shop-file.md").read_text(encoding="utf-8")
    path = tmp_path / "shop.yaml"
    path.write_text(manual.split("```yaml\n")[1].split("```")[0], encoding="utf-8")
    shop = read_shop(path, book)
    assert shop.name == "Brook Lane Foundry"
    assert [len(windows) for windows in shop.windows.values()] == [1, 2]
