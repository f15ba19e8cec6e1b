"""Where the shop's own file is found, and what it does to the book and to a session."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.reasoning.readings import is_own
from diagnose.reasoning.setup import window_for
from diagnose.reject.reject import Reject
from diagnose.rulebase.job import Job
from diagnose.session.session import Session, open_session
from diagnose.session.windows.file import ShopFile, places, shop_path, with_shop
from diagnose.session.windows.read import read_shop
from tests import shipped
from tests.program import python
from tests.shopbook import BOOK, SHOP

IRON, SAND = "grey iron", "green sand"
Opened = Callable[[str], Session]
Start = Callable[..., Session]


@pytest.fixture
def shop(tmp_path: Path) -> ShopFile:
    path = tmp_path / "shop.yaml"
    path.write_text(SHOP, encoding="utf-8")
    return read_shop(path, BOOK)


@pytest.fixture
def folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, Path]:
    """A working folder and a configuration folder of one's own, with nothing in them."""
    work, config = tmp_path / "work", tmp_path / "config"
    work.mkdir()
    config.mkdir()
    monkeypatch.delenv("DIAGNOSE_SHOP")
    monkeypatch.setattr("platformdirs.user_config_dir", lambda name: str(config / name))
    (config / "diagnose").mkdir()
    monkeypatch.chdir(work)
    return work / "shop.yaml", config / "diagnose" / "shop.yaml"


# where it is found


def test_the_working_folder_goes_before_the_users_own(folders: tuple[Path, Path]) -> None:
    here, users = folders
    assert places() == (Path("shop.yaml"), users)
    assert shop_path() is None
    users.write_text("shop: a")
    assert shop_path() == users
    here.write_text("shop: b")
    assert shop_path() == Path("shop.yaml")


def test_a_broken_link_is_not_passed_over(folders: tuple[Path, Path]) -> None:
    folders[0].symlink_to("gone.yaml")
    with pytest.raises(Fault, match=r"shop\.yaml: There is no such file"):
        open_session()


def test_the_environment_goes_before_both(
    folders: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    folders[0].write_text("shop: b")
    monkeypatch.setenv("DIAGNOSE_SHOP", "other.yaml")
    assert places() == (Path("other.yaml"),)
    assert shop_path() == Path("other.yaml")
    with pytest.raises(Fault, match=r"other\.yaml: There is no such file"):
        open_session()
    monkeypatch.setenv("DIAGNOSE_SHOP", "none")
    assert places() == ()
    assert shop_path() is None
    monkeypatch.setenv("DIAGNOSE_SHOP", "")
    assert shop_path() == Path("shop.yaml")


def test_without_a_file_nothing_is_imported_to_read_one() -> None:
    done = python(
        "-c",
        "import sys; from diagnose.session.session import open_session; open_session();"
        "print(*sorted(name for name in sys.modules if 'session.windows.' in name))",
    )
    assert done.stdout == "diagnose.session.windows.file\n"


# laid over the book


def held(shop: ShopFile, name: str, section: float | None, metal: str = IRON) -> tuple[object, ...]:
    measurement = with_shop(BOOK, shop).measurements[name]
    window = window_for(measurement, Job(metal, SAND, section))
    return (None, None, False) if window is None else (window.low, window.high, is_own(window))


@pytest.mark.parametrize("section", [None, 1.0, 12.0, 25.0, 200.0])
def test_a_window_without_a_section_goes_before_all_of_the_books(
    shop: ShopFile, section: float | None
) -> None:
    assert held(shop, "sand-moisture", section) == (3.0, 3.8, True)


@pytest.mark.parametrize(
    ("section", "window"),
    [(6.0, (1380.0, 1430.0)), (10.0, (1380.0, 1430.0)), (11.0, (1340.0, 1400.0)),
     (80.0, (1340.0, 1400.0)), (None, (1340.0, 1400.0))],
)  # fmt: skip
def test_the_closest_of_the_shops_windows_holds(
    shop: ShopFile, section: float | None, window: tuple[float, float]
) -> None:
    assert held(shop, "pouring-temperature", section) == (*window, True)


def test_where_the_shop_has_no_window_the_books_holds(shop: ShopFile) -> None:
    thin_only = replace(shop, windows={
        "pouring-temperature": shop.windows["pouring-temperature"][:1]
    })  # fmt: skip
    assert held(thin_only, "pouring-temperature", 8.0) == (1380.0, 1430.0, True)
    assert held(thin_only, "pouring-temperature", 20.0) == (1320.0, 1440.0, False)
    assert held(thin_only, "pouring-temperature", None) == (1320.0, 1440.0, False)
    assert held(shop, "sand-moisture", 8.0, "ductile iron") == (None, None, False)


def test_the_book_itself_stays_as_it_was(shop: ShopFile) -> None:
    before = repr(BOOK)
    over = with_shop(BOOK, shop)
    assert repr(BOOK) == before
    assert over.measurements["sand-moisture"].repeatability == 0.1
    assert over.measurements["superheat"].repeatability == 12
    assert set(BOOK.measurements["sand-moisture"].windows) < set(
        over.measurements["sand-moisture"].windows
    )
    assert with_shop(BOOK, ShopFile()) == BOOK


@pytest.mark.parametrize("section", [None, 8.0, 100.0])
def test_an_open_end_stays_open(shop: ShopFile, section: float | None) -> None:
    assert held(shop, "superheat", section) == (50.0, None, True)
    assert held(shop, "sand-permeability", section) == (None, 120.0, True)


def test_the_mark_changes_with_what_is_measured_and_not_with_the_name(shop: ShopFile) -> None:
    assert replace(shop, name="Hill Lane Foundry").mark == shop.mark
    assert replace(shop, repeatability={}).mark != shop.mark
    assert replace(shop, windows={}).mark != shop.mark


# in a session, with the book that comes with the program


@pytest.fixture
def open_with(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Opened:
    def opened(text: str) -> Session:
        path = tmp_path / "windows.yaml"
        path.write_text(text, encoding="utf-8")
        monkeypatch.setenv("DIAGNOSE_SHOP", str(path))
        return open_session()

    return opened


OURS = "windows: {sand-moisture: {low: 3.0, high: 3.8, unit: '%', why: mill card}}"


def test_a_reading_is_held_against_the_shops_window(open_with: Opened, start: Start) -> None:
    reading = open_with(OURS).measure("moulding sand moisture", "4.4 %")
    assert (reading.low, reading.high, reading.words) == (3.0, 3.8, "above the shop's own window")
    assert start().measure("moulding sand moisture", "4.4 %").words.endswith("within its window")


def test_the_shops_window_changes_what_is_likely(open_with: Opened, start: Start) -> None:
    """4.4 % is within the book's window and above the shop's: only there it speaks for wet sand."""

    def wet(session: Session) -> float:
        session.measure("moulding sand moisture", "4.4 %")
        return next(c.probability for c in session.causes() if c.id == "sand-too-wet")

    assert wet(open_with(OURS)) > 2 * wet(start())


def test_a_window_open_at_one_end_says_nothing_on_that_side(open_with: Opened) -> None:
    """Another shape of the network than the book's, so it must not come from the book's cache."""
    session = open_with("windows: {sand-moisture: {high: 3.8, unit: '%'}}")
    reading = session.measure("moulding sand moisture", "3.0 %")
    within = session.probabilities
    assert reading.words == "within the shop's own window"
    assert session.measure("moulding sand moisture", "0.5 %").words == reading.words
    assert session.probabilities == pytest.approx(within, abs=1e-6)
    assert session.probabilities.sum() == pytest.approx(1.0)


def test_a_reject_that_does_not_say_takes_the_shops_metal_and_process(open_with: Opened) -> None:
    session = open_with("metal: SG iron\nprocess: greensand")
    assert (session.reject.metal, session.reject.process) == ("ductile iron", SAND)
    assert session.another().reject == Reject(metal="ductile iron", process=SAND)
    said = Reject(metal=IRON, process=SAND)
    assert session.another(said).reject == said
    assert session.another().another().reject.metal == "ductile iron"


def test_a_bad_shop_file_stops_with_its_faults(open_with: Opened) -> None:
    with pytest.raises(Fault, match=r"windows\.yaml:1:\d+: 'furlongs' is not a unit"):
        open_with("windows: {sand-moisture: {low: 3.0, unit: furlongs}}")


def test_a_shop_file_without_windows_changes_nothing(open_with: Opened, start: Start) -> None:
    assert open_with("shop: Brook Lane Foundry").book == start().book


def test_every_window_of_the_book_may_be_given_by_the_shop(tmp_path: Path) -> None:
    """Written out in the book's own units, each of them reads back to the same figures."""
    book = shipped.book()
    windows = {
        name: {"low": w.low, "high": w.high, "unit": entry.unit}
        for name, entry in book.measurements.items()
        for w in entry.windows[:1]
    }
    scatter = {n: f"{m.repeatability!r} {m.unit}" for n, m in book.measurements.items()}
    path = tmp_path / "shop.yaml"
    path.write_text(json.dumps({"windows": windows, "repeatability": scatter}), encoding="utf-8")
    shop = read_shop(path, book)
    assert {n: (w.low, w.high) for n, (w,) in shop.windows.items()} == {
        n: (w["low"], w["high"]) for n, w in windows.items()
    }
    assert shop.repeatability == {n: m.repeatability for n, m in book.measurements.items()}
