"""Published error of shoulder range-of-motion tests, retyped with its sources.

A row can be selected only where the source's excerpt states the motion, active or
passive, the raters, the population and the device; the others stand here with the
reason why they cannot.
"""

from __future__ import annotations

from dataclasses import dataclass

from imucarry.basics.evidence.row import Evidence

ANY_MOTION = ("flexion", "abduction", "internal_rotation", "external_rotation")

_KOLBER_2009 = "Kolber et al. 2009, Physiother Theory Pract 25:572-581"
_KOLBER_2011 = "Kolber et al. 2011, Physiother Theory Pract 27:176-184"
_DE_WINTER = "de Winter et al. 2004, BMC Musculoskelet Disord 5:18"
_SHARMA = "Sharma et al. 2015, BMC Musculoskelet Disord 16:37"
_TVEITA = "Tveita et al. 2008, BMC Musculoskelet Disord 9:49"
_HAYES = "Hayes et al. 2001, Aust J Physiother 47:289-294"
_FIESELER = "Fieseler et al. 2017, J Exerc Rehabil 13(6)"
_DOUGHERTY = "Dougherty et al. 2015, J Manipulative Physiol Ther 38:218-224"
_NOT_STATED = "active or passive is not stated in what was read of the source"
_IMPLAUSIBLE = "the error looks implausible beside every other source"


@dataclass(frozen=True, slots=True, repr=False)
class RomError:
    """One published error.

    Attributes
    ----------
    motions : tuple of str
        Motions that it holds for.
    active_passive : str
        "active", "passive" or "" (not stated).
    rater : str
        "same" or "different" rater before and after.
    population : str
    device : str
    mdc95_low_deg, mdc95_high_deg : float [deg]
        Change beyond error at 95 %; equal unless the source gives a range.
    basis : str
        What the source printed.
    source : str
    not_selectable : str
        Why it is never used, or "".
    """

    motions: tuple[str, ...]
    active_passive: str
    rater: str
    population: str
    device: str
    mdc95_low_deg: float
    mdc95_high_deg: float
    basis: str
    source: str
    not_selectable: str = ""

    def __repr__(self) -> str:
        # People read this where the thresholds are listed.
        how = (self.active_passive or "active or passive", f"{self.rater} rater")
        low, high = self.mdc95_low_deg, self.mdc95_high_deg
        size = f"{high:g} deg" if low == high else f"{low:g} to {high:g} deg"
        unused = f" [not used: {self.not_selectable}]" if self.not_selectable else ""
        words = (" or ".join(self.motions), *how, self.population, self.device or "any device")
        return f"{', '.join(words).replace('_', ' ')}: {size} ({self.basis}; {self.source}){unused}"


def _kolber(motion: str, rater: str, mdc95_deg: float, mdc90_deg: int, source: str) -> RomError:
    return RomError((motion,), "active", rater, "asymptomatic", "inclinometer", mdc95_deg,
                    mdc95_deg, f"MDC90 {mdc90_deg} deg, times 1.1916", source)  # fmt: skip


SHOULDER_ROM_ERRORS = Evidence(
    key="carry.shoulder_rom_errors_deg",
    value=(
        _kolber("external_rotation", "same", 6.0, 5, _KOLBER_2009),
        _kolber("internal_rotation", "same", 4.8, 4, _KOLBER_2009),
        _kolber("flexion", "different", 9.5, 8, _KOLBER_2011),
        _kolber("abduction", "different", 4.8, 4, _KOLBER_2011),
        _kolber("internal_rotation", "different", 9.5, 8, _KOLBER_2011),
        _kolber("external_rotation", "different", 10.7, 9, _KOLBER_2011),
        RomError(("external_rotation",), "passive", "different", "shoulder_pain",
                 "inclinometer", 18.8, 18.8, "95 % limits of agreement -4.6 +- 18.8 deg",
                 _DE_WINTER),
        RomError(("glenohumeral_abduction",), "passive", "different", "shoulder_pain",
                 "inclinometer", 19.6, 19.6, "95 % limits of agreement 0.8 +- 19.6 deg",
                 _DE_WINTER),
        RomError(("external_rotation", "glenohumeral_abduction"), "passive", "different",
                 "shoulder_pain", "inclinometer", 20.0, 25.0,
                 "authors' conclusion: 20 to 25 deg cannot be told from error", _DE_WINTER),
        RomError(ANY_MOTION, "passive", "different", "adhesive_capsulitis", "inclinometer",
                 13.9, 19.4, "SEM 5 to 7 deg", _SHARMA),
        RomError(ANY_MOTION, "active", "same", "impingement", "goniometer", 12.2, 27.4,
                 "SEM 4.4 to 9.9 deg, six movements", _FIESELER),
        RomError(ANY_MOTION, "active", "different", "impingement", "goniometer", 6.4, 24.4,
                 "SEM 2.3 to 8.8 deg", _FIESELER),
        RomError(ANY_MOTION, "", "same", "adhesive_capsulitis", "", 15.0, 15.0,
                 "authors' conclusion: more than about 15 deg is unlikely to be error only",
                 _TVEITA, _NOT_STATED + ", nor the device"),
        RomError(("flexion", "abduction", "external_rotation"), "", "same", "symptomatic",
                 "goniometer", 30.5, 63.8, "SEM 11 to 23 deg over all methods", _HAYES,
                 _NOT_STATED),
        RomError(("flexion", "abduction", "external_rotation"), "", "different", "symptomatic",
                 "goniometer", 38.8, 69.3, "SEM 14 to 25 deg over all methods", _HAYES,
                 _NOT_STATED),
        RomError(("flexion",), "passive", "same", "asymptomatic", "inclinometer", 34.1, 34.1,
                 "SEM 12.3 deg", _DOUGHERTY, _IMPLAUSIBLE),
        RomError(("external_rotation",), "passive", "same", "asymptomatic", "inclinometer",
                 85.9, 85.9, "SEM 31 deg", _DOUGHERTY, _IMPLAUSIBLE),
    ),
    unit="deg",
    source="; ".join((_KOLBER_2009, _KOLBER_2011, _DE_WINTER, _SHARMA, _TVEITA, _HAYES,
                      _FIESELER, _DOUGHERTY)),
    why="A change smaller than the test's own error may be noise; the error differs by motion, "
    "active or passive, raters, population and device.",
)  # fmt: skip
