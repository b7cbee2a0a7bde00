"""The table of measures: `MEASURES`, and `compute_scores`, which fills it for one bout.

A measure is one function and one row in the module of its group; columns, captions
and descriptions elsewhere derive from its row. Divergence exponents and entropies are
left out: a bout of a carry is too short for them (more than 150 strides are needed:
Bruijn et al. 2009, J Neurosci Methods 178:327-333).
"""

from __future__ import annotations

from imucarry.basics.records import SIDES, BoutData, Score
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.arm_rate import ARM_RATE
from imucarry.measures.coordination import COORDINATION
from imucarry.measures.dose import DOSE
from imucarry.measures.measure import Measure
from imucarry.measures.perturbed import PERTURBED
from imucarry.measures.phase_coordination import PHASE_COORDINATION
from imucarry.measures.regularity import REGULARITY
from imucarry.measures.roles import arm_role
from imucarry.measures.rotation import ROTATION
from imucarry.measures.sample import BoutSample, prepare
from imucarry.measures.swing import SWING
from imucarry.measures.symmetry import SYMMETRY
from imucarry.measures.timing import TIMING
from imucarry.measures.variability import SPREAD

MEASURES: tuple[Measure, ...] = (
    *ROTATION,
    *SWING,
    *TIMING,
    *SPREAD,
    *REGULARITY,
    *SYMMETRY,
    *PHASE_COORDINATION,
    *COORDINATION,
    *ARM_RATE,
    *PERTURBED,
    *DOSE,
)


def compute_scores(data: BoutData, settings: MeasureSettings) -> tuple[Score, ...]:
    """Compute every measure of one bout that needs no other bout.

    Parameters
    ----------
    data : BoutData
    settings : MeasureSettings

    Returns
    -------
    tuple of Score
        One for each measure and side, in the order of the table; a measure that
        cannot be had has no value and says why. Those that `carry` computes are
        not among them.
    """
    sample = prepare(data, settings)
    return tuple(score for measure in MEASURES for score in _scores(measure, sample))


def _scores(measure: Measure, sample: BoutSample) -> tuple[Score, ...]:
    bout, least = sample.data.row.bout, least_strides(measure, sample.settings)
    if measure.whole is not None:
        found = measure.whole(sample, least)
        return (Score(bout, measure.id, "none", "none", measure.unit, found),)
    if measure.by_side is None:
        return ()
    is_arm = measure.sides == "arms"
    return tuple(
        Score(
            bout,
            measure.id,
            side,
            arm_role(sample.data.row, side) if is_arm else "none",
            measure.unit,
            measure.by_side(sample, side, least),
        )
        for side in SIDES
    )


def least_strides(measure: Measure, settings: MeasureSettings) -> int:
    """Return how many strides a measure needs: as set, else as its evidence says."""
    name = measure.least_strides.key.partition(".")[2]
    return int(getattr(settings, name, measure.least_strides.value))
