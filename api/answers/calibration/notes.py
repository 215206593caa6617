"""What all sides of a calibration together tell: one slip, or which size is another than thought."""

from collections.abc import Iterator, Mapping, Sequence

from api.answers.calibration.efficiency import Found
from api.answers.calibration.machine import CalibratedMachine
from api.answers.calibration.series import Series
from api.engineering.calibration.likely_mistake import FoundEfficiency
from api.engineering.calibration.series import Note
from api.engineering.calibration.size_in_doubt import Size, SizeInDoubt, explaining_sizes
from api.engineering.checks import Amount

WORDS: Mapping[Size, str] = {"bore": "bore", "rod": "rod", "arm": "moment arm"}
CODES: Mapping[Size, str] = {"bore": "bore", "rod": "rod", "arm": "arm_hole"}
NO_OTHER: Mapping[Size, str] = {
    "bore": "no moment arm",
    "rod": "no bore and no moment arm",
    "arm": "no bore",
}
"""What was held against both sides and does not explain them."""


def size_notes(series: Sequence[Series], machine: CalibratedMachine | None, found: Found) -> Iterator[Note]:
    """Notes that explain every side at once, or that nothing does."""
    suspect = [each for each in series if each.name in found and found[each.name].mistakes]
    if not suspect:
        return
    every = [found[each.name] for each in series]
    shared = _shared(every) if len({each.side for each in series}) > 1 else ()
    if shared:
        yield Note("same_mistake", f"one mistake would explain every side: {'; or '.join(shared)}")
    by_size = any(each.by_size for each in every)
    doubts = list(_doubts(series, machine, found)) if by_size else []
    sizes = dict(explaining_sizes(doubts)) if doubts else {}
    swapped = [each for each in suspect if found[each.name].looks_like_the_other_side]
    if swapped and not shared:
        yield from (_other_side(each, found[each.name]) for each in swapped)
        sizes.pop("rod", None)  # a rod of nothing is the other side
    if sizes:
        yield _size_note(sizes, doubts, _losses(every))
    elif len(suspect) < len(series) and not swapped:
        denial = ", which no bore, rod or moment arm explains" if doubts else ""
        for each in suspect:
            yield Note("one_side_off", f"{each.name} alone is off{denial}: see what was read there")


def _other_side(each: Series, found: FoundEfficiency) -> Note:
    text = (
        f"the readings of {each.name} look like those of the other side: the torque is {found.share:.3g} of "
        f"that expected, and the areas of the two sides are as {found.other_side_share:.3g}"
    )
    return Note("other_side_likely", text)


def _shared(found: Sequence[FoundEfficiency]) -> list[str]:
    """Texts of the mistakes that explain all, without the one that explains anything."""
    rest = [{mistake.code for mistake in each.mistakes} for each in found[1:]]
    first = found[0]
    return [
        mistake.text
        for mistake in first.mistakes
        if mistake != first.another_size and all(mistake.code in codes for codes in rest)
    ]


def _doubts(
    series: Sequence[Series], machine: CalibratedMachine | None, found: Found
) -> Iterator[SizeInDoubt]:
    if machine is None or machine.piston is None or machine.moment_arm is None:
        return
    for each in series:
        efficiency = found[each.name]
        plausible = efficiency.verdict == "plausible"
        yield SizeInDoubt(each.side, machine.piston, machine.moment_arm, efficiency.share, plausible)


def _losses(found: Sequence[FoundEfficiency]) -> str | None:
    """The losses that would explain all sides, as an arm would: both change them alike."""
    losses = {each.by_losses for each in found}
    return losses.pop() if len(losses) == 1 else None


def _size_note(sizes: Mapping[Size, float], doubts: Sequence[SizeInDoubt], losses: str | None) -> Note:
    """Which sizes would give the torque measured, at the efficiency of the profile."""
    given = {"bore": doubts[0].piston.bore, "rod": doubts[0].piston.rod, "arm": doubts[0].moment_arm}
    amounts = {
        name: Amount("length", value)
        for size, value in sizes.items()
        for name, value in ((size, value), (f"given_{size}", given[size]))
    }
    instead = ", or ".join(f"a {WORDS[size]} of {{{size}}} instead of {{given_{size}}}" for size in sizes)
    would = " would explain " if len(sizes) == 1 else ", would explain "
    too = f"; {losses} than its profile allows for would as well" if "arm" in sizes and losses else ""
    return Note(_code(sizes), instead + would + _what(sizes, doubts) + too, amounts)


def _code(sizes: Mapping[Size, float]) -> str:
    names = [CODES[size] if len(sizes) == 1 else size for size in sizes]
    return f"{'_or_'.join(names)}_in_doubt"


def _what(sizes: Mapping[Size, float], doubts: Sequence[SizeInDoubt]) -> str:
    """The sides that they explain, and why no other does or which cannot be told."""
    if len({each.side for each in doubts}) == 1:
        return "this side; the other side would tell which"
    if len(sizes) > 1:
        return "both sides; these are too near each other to tell which"
    (size,) = sizes
    return f"both sides, and {NO_OTHER[size]} would"
