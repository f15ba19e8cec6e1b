"""Mass balance of a sand batch: what to add, or drive off, to bring it to its target.

Moisture is on the wet basis. Everything else (live clay, dead clay, loss on ignition) is in per
cent of the dry sand, because that is what is titrated, washed and burnt.
"""

from __future__ import annotations

from diagnose.shop.calculation import OutOfRange, figure, require
from diagnose.shop.series import Reading, within


def dry_part(batch: Reading, moisture: Reading) -> Reading:
    """Return the dry sand in kg of a moist batch.

    >>> round(dry_part(200.0, 3.0), 9)
    194.0
    """
    within("batch", batch, "kg", above=True)
    within("moisture", moisture, "%", 0.0, 99.0)
    return batch * (1.0 - moisture / 100.0)


def water_to_add(
    batch: float,
    moisture: float,
    target: float,
    dry_added: float = 0.0,
    added_moisture: float = 0.0,
) -> float:
    """Return the water in kg that brings a batch, and what is thrown in with it, to the target.

    ``batch`` kg at ``moisture`` %, ``dry_added`` kg of clay, coal dust or new sand that itself
    holds ``added_moisture`` %. The water adds to the whole too, so a batch of 200 kg wants more
    than 200 x (difference of moisture). Raises OutOfRange when the batch is wetter already.

    References: mass balance (exact).

    >>> round(water_to_add(200.0, 2.0, 3.5), 4)
    3.1088
    """
    within("batch", batch, "kg", above=True)
    within("additions", dry_added, "kg")
    for name, share in (("moisture", moisture), ("target", target), ("of it", added_moisture)):
        within(name, share, "%", 0.0, 99.0)
    wanted = target * (batch + dry_added) - moisture * batch - added_moisture * dry_added
    if wanted < -1e-9 * (batch + dry_added):  # a difference of rounding is no difference
        mixed = (moisture * batch + added_moisture * dry_added) / (batch + dry_added)
        raise OutOfRange(
            f"target: {figure(target)} % is drier than the {figure(mixed)} % that is there; right "
            "would be a target above it, or the sum for drying."
        )
    return max(0.0, wanted) / (100.0 - target)


def water_to_drive_off(batch: float, moisture: float, target: float) -> float:
    """Return the water in kg that has to leave a batch to bring it down to the target.

    References: mass balance (exact).

    >>> round(water_to_drive_off(200.0, 5.0, 3.0), 4)
    4.1237
    """
    within("moisture", moisture, "%", 0.0, 99.0)
    require(
        target <= moisture,
        f"target: {figure(target)} % is wetter than the {figure(moisture)} % that is there; right "
        "would be a target below it, or the sum for adding water.",
    )
    within("target", target, "%")
    return dry_part(batch, moisture) * (1.0 / (1 - moisture / 100) - 1.0 / (1 - target / 100))


def addition(
    dry: float, level: float, target: float, strength: float = 100.0, moisture: float = 0.0
) -> float:
    """Return what to add, as delivered, in kg, to raise a level in dry sand to the target.

    ``dry`` kg of dry sand at ``level`` %; the addition holds ``strength`` % of the same thing in
    its dry part and ``moisture`` % of water. Serves live clay, coal dust and loss on ignition.
    Raises OutOfRange when the addition cannot reach the target.

    References: mass balance (exact): the addition itself adds to the whole.

    >>> round(addition(194.0, 7.0, 8.0), 4)
    2.1087
    """
    within("dry sand", dry, "kg", above=True)
    within("level", level, "%", 0.0, 100.0)
    within("moisture of the addition", moisture, "%", 0.0, 99.0)
    require(
        level <= target < strength <= 100.0,
        f"target: {figure(target)} % cannot be reached from {figure(level)} % with an addition of "
        f"{figure(strength)} %; right would be a target between the two.",
    )
    return dry * (target - level) / (strength - target) / (1.0 - moisture / 100.0)


def dilution(dry: float, level: float, target: float, fresh: float = 0.0) -> float:
    """Return the new sand in kg that thins a level in dry sand down to the target.

    ``fresh`` is what the new sand itself holds, in %. Serves dead clay, ash and loss on ignition.

    References: mass balance (exact).

    >>> round(dilution(190.0, 4.0, 3.8), 9)
    10.0
    """
    within("dry sand", dry, "kg", above=True)
    within("level", level, "%", 0.0, 100.0)
    within("level in new sand", fresh, "%", 0.0, 100.0)
    require(
        fresh < target <= level,
        f"target: {figure(target)} % cannot be reached from {figure(level)} % with new sand of "
        f"{figure(fresh)} %; right would be a target between the two.",
    )
    return dry * (level - target) / (target - fresh)


def level_after(dry: float, level: float, added: float, strength: float) -> float:
    """Return the level in % after ``added`` kg (dry) of ``strength`` % went in.

    References: mass balance (exact).

    >>> round(level_after(194.0, 7.0, 2.1087, 100.0), 3)
    8.0
    """
    within("dry sand", dry, "kg", above=True)
    within("added", added, "kg")
    for share in (level, strength):
        within("level", share, "%", 0.0, 100.0)
    return (dry * level + added * strength) / (dry + added)


def kept(renewed: float, burnt: float = 0.0) -> float:
    """Return the part of a level that lives through one round of the sand.

    ``renewed`` is the per cent of the sand replaced each round by new sand or core sand that
    holds none of it, ``burnt`` the per cent of it that the heat destroys.

    >>> round(kept(5.0, 10.0), 4)
    0.855
    """
    within("sand renewed", renewed, "%", 0.0, 100.0)
    within("burnt", burnt, "%", 0.0, 100.0)
    return (1.0 - renewed / 100.0) * (1.0 - burnt / 100.0)


def steady_level(added: float, renewed: float, burnt: float = 0.0) -> float:
    """Return the level in % to which a circulating sand settles.

    ``added`` % of the sand goes in each round; the rest as in ``kept``. Raises OutOfRange when
    nothing ever leaves: then the level only rises.

    References: mass balance: what goes in equals what is lost, L = a / (1 - kept).

    >>> round(steady_level(0.2, 5.0), 9)
    4.0
    """
    within("added", added, "%", 0.0, 100.0)
    lost = 1.0 - kept(renewed, burnt)
    within("lost each round", lost * 100, "%", 0.0, 100.0, above=True)
    return added / lost


def level_after_rounds(
    start: float, rounds: Reading, added: float, renewed: float, burnt: float = 0.0
) -> Reading:
    """Return the level in % after so many rounds of the sand, from ``start`` %.

    References: the same balance, round by round: L(n) = L + (start - L) kept^n.

    >>> round(level_after_rounds(0.0, 1.0, 0.2, 5.0), 9)
    0.2
    """
    within("start", start, "%", 0.0, 100.0)
    within("rounds", rounds, "")
    settled = steady_level(added, renewed, burnt)
    faded: Reading = kept(renewed, burnt) ** rounds
    return settled + (start - settled) * faded


def addition_to_hold(level: float, renewed: float, burnt: float = 0.0) -> float:
    """Return what has to go in each round, in % of the sand, to hold a level.

    References: the same balance turned round.

    >>> round(addition_to_hold(8.0, 5.0, 10.0), 9)
    1.16
    """
    within("level", level, "%", 0.0, 100.0)
    return level * (1.0 - kept(renewed, burnt))


def renewal_to_hold(level: float, grown: float) -> float:
    """Return the sand to renew each round, in %, so that what grows in it settles at a level.

    ``grown`` is what each round leaves behind (dead clay, ash), in % of the sand.

    References: the same balance with nothing burnt.

    >>> round(renewal_to_hold(4.0, 0.2), 9)
    5.0
    """
    within("level", level, "%", 0.0, 100.0, above=True)
    within("grown", grown, "%", 0.0, level)
    return grown / level * 100.0
