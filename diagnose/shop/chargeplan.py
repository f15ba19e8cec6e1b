"""The charge the other way round: the shares of two or three materials that hit a target."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure
from diagnose.shop.charge import GAIN, LOSS, Change, before_melting, contents_of

_SOURCE = "Linear mixture: the shares add up to 1 and their contents to the target."


def shares_of_two(contents: Mapping[str, float], target: float) -> dict[str, float]:
    """Return the shares of two materials whose mixture holds ``target``, all in %.

    Raises OutOfRange when no mixture of the two reaches it.

    >>> shares_of_two({"pig": 2.2, "scrap": 1.6}, 1.9)
    {'pig': 0.5, 'scrap': 0.5}
    """
    if len(contents) != 2:
        raise OutOfRange(f"contents: {len(contents)} materials; right would be two, by name.")
    (first, high), (second, low) = contents.items()
    _check_reach(contents, target)
    if high == low:
        raise OutOfRange(f"{first} and {second} hold the same: their shares change nothing.")
    share = round((target - low) / (high - low), 12)
    return {first: share, second: 1 - share}


def shares_of_three(
    contents: Mapping[str, float], others: Mapping[str, float], target: float, other_target: float
) -> dict[str, float]:
    """Return the shares of three materials that hit one target for each of two elements, in %.

    ``contents`` and ``others`` hold the first and the second element by material. Raises
    OutOfRange when the materials lie on a line, or a share would have to be below nothing.

    >>> shares_of_three({"pig": 4.0, "returns": 3.4, "steel": 0.2},
    ...                 {"pig": 2.0, "returns": 2.2, "steel": 0.3}, 3.06, 1.72)
    {'pig': 0.5, 'returns': 0.3, 'steel': 0.2}
    """
    if len(contents) != 3 or set(contents) != set(others):
        raise OutOfRange("contents: give the same three materials, by name, for both elements.")
    names = tuple(contents)
    _check_reach(contents, target)
    _check_reach(others, other_target)
    (x1, x2, x3), (y1, y2, y3) = ([table[name] for name in names] for table in (contents, others))
    whole = (x1 - x3) * (y2 - y3) - (x2 - x3) * (y1 - y3)
    if abs(whole) < 1e-9:
        raise OutOfRange(
            f"{', '.join(names)} lie on one line: one of them is a mixture of the others. "
            "Change a material."
        )
    first = ((target - x3) * (y2 - y3) - (x2 - x3) * (other_target - y3)) / whole
    second = ((x1 - x3) * (other_target - y3) - (target - x3) * (y1 - y3)) / whole
    shares = (round(first, 12), round(second, 12), round(1 - first - second, 12))
    short = [name for name, share in zip(names, shares, strict=True) if share < 0]
    if short:
        raise OutOfRange(
            f"impossible: both targets at once would need less than nothing of "
            f"{' and '.join(short)}. Move a target, or change a material."
        )
    return dict(zip(names, shares, strict=True))


def _check_reach(contents: Mapping[str, float], target: float) -> None:
    least, most = min(contents.values()), max(contents.values())
    if not least - 1e-9 <= target <= most + 1e-9:
        raise OutOfRange(
            f"impossible: the charge would have to hold {figure(target)} %; these materials reach "
            f"from {figure(least)} to {figure(most)} %."
        )


def _shares_in_words(shares: Mapping[str, float]) -> tuple[str, ...]:
    return tuple(f"{name}: {figure(share * 100)} %" for name, share in shares.items())


def _work_two(contents: Mapping[str, float], target: float, gain: float, loss: float) -> Worked:
    raw = before_melting(target, Change(gain, loss))
    shares = shares_of_two(contents, raw)
    value = next(iter(shares.values())) * 100
    working = (
        "share of the first = (needed - second) / (first - second)",
        f"needed in the charge = ({figure(target)} - {figure(gain)}) / (1 - {figure(loss)} / 100)"
        f" = {figure(raw)} %",
        *_shares_in_words(shares),
        f"= {figure(value)} % {next(iter(shares))}",
    )
    return Worked(value, "%", working, _SOURCE)


def _work_three(
    contents: Mapping[str, float],
    others: Mapping[str, float],
    target: float,
    other_target: float,
    gain: float,
    loss: float,
    other_gain: float,
    other_loss: float,
) -> Worked:
    raw = before_melting(target, Change(gain, loss))
    other_raw = before_melting(other_target, Change(other_gain, other_loss))
    shares = shares_of_three(contents, others, raw, other_raw)
    value = next(iter(shares.values())) * 100
    working = (
        "shares that add up to 1 and give both contents (three equations)",
        f"needed in the charge: {figure(raw)} % and {figure(other_raw)} %",
        *_shares_in_words(shares),
        f"= {figure(value)} % {next(iter(shares))}",
    )
    return Worked(value, "%", working, _SOURCE)


_TARGET = Input("target", "content wanted in the tapped iron", "%", 0, 20)
CALCULATIONS = (
    Calculation(
        "charge-of-two",
        "Shares of two materials for a target",
        (contents_of("element"), _TARGET, GAIN, LOSS),
        "%",
        _SOURCE,
        _work_two,
    ),
    Calculation(
        "charge-of-three",
        "Shares of three materials for two targets",
        (
            contents_of("element"),
            Input(
                "others",
                "second element of each material, by the same names",
                "%",
                0,
                100,
                table=True,
            ),
            _TARGET,
            Input("other_target", "second element wanted in the tapped iron", "%", 0, 20),
            GAIN,
            LOSS,
            Input("other_gain", "gain of the second element", "% points", -1, 2, default=0),
            Input("other_loss", "loss of the second element", "%", 0, 60, default=0),
        ),
        "%",
        _SOURCE,
        _work_three,
    ),
)
