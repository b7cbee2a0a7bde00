"""The cautions that stand wherever a person reads results: page, README, command line."""

from __future__ import annotations

from dataclasses import dataclass

from imucarry.basics.evidence.row import COMMON_PRACTICE

_PMC = "Integr Blood Press Control 2024;17:21-37, Table 1, after Williams et al. 2007, " \
    "Circulation 116:572-584"  # fmt: skip
_PRT = 'Diabetes Care, table "Medical contraindications to PRT" (collated from Fiatarone Singh)'
_ASSET = "Thigpen et al. 2016, J Shoulder Elbow Surg 25:521-535"
_OURS = "what this program is"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: under which heading it stands, what it says, and on whose word."""

    heading: str
    text: str
    source: str


SCOPE = "What this is, and who decides"
STOP = "Stop at once for"
HEART = "Heart and circulation: no resistance exercise without medical clearance"
BODY = "Other reasons to ask a physician first"
SURGERY = "After shoulder surgery"
SAFETY = "Grip, feet and floor"

CAUTIONS: tuple[Caution, ...] = (
    Caution(SCOPE, "This is not a medical device. It describes measured movement; it is not a "
            "diagnosis and does not replace assessment by a licensed health professional.", _OURS),
    Caution(SCOPE, "Loads, distances and progression are decided by the responsible, licensed "
            "practitioner under local codes and scope of practice.", COMMON_PRACTICE),
    Caution(SCOPE, "Values are compared with this person's own free walking; no published "
            "cut-off defines reduced trunk rotation or arm swing in loaded carries.", _OURS),
    Caution(SCOPE, "A change smaller than the error of its test may be noise.", COMMON_PRACTICE),
    Caution(SCOPE, "A load carried with pain above the limit, an early stop or an alarm symptom "
            "noted is never counted as kept.", _OURS),
    Caution(SCOPE, "The sensors see the sternum and the forearms, not the pelvis, the shoulder "
            "blade or the shoulder joint.", _OURS),
    Caution(STOP, "pain above the agreed level, dizziness, sickness, headache, change of "
            "vision, chest symptoms, trouble breathing, a numb or dead arm or hand, a joint that "
            "slips or gives way, or loss of grip", COMMON_PRACTICE),
    Caution(HEART, "unstable coronary disease, uncontrolled arrhythmia, decompensated heart "
            "failure, severe symptomatic valve stenosis, severe pulmonary hypertension (mean "
            "pressure above 55 mmHg), uncontrolled hypertension above 180/110 mmHg, acute endo-, "
            "myo- or pericarditis, Marfan syndrome, aortic dissection", _PMC),
    Caution(HEART, "with care: major risk factors for coronary disease, hypertension above "
            "160/100 mmHg, diabetes, musculoskeletal limitation, capacity under 4 METs, pacemaker "
            "or defibrillator", _PMC),
    Caution(HEART, "Breathe throughout. Avoid long breath-holds in hypertension, glaucoma, "
            "hernia, pregnancy or after recent surgery.", COMMON_PRACTICE),
    Caution(BODY, "pain that resistance exercise makes much worse; an unstable or acutely injured "
            "joint, tendon or ligament; a fracture within 6 months (delayed union); acute "
            "inflammatory joint disease; symptomatic abdominal or inguinal hernia; acute retinal "
            "bleeding or detachment or recent eye surgery; known aneurysm; recent intracranial "
            "bleed; rapidly progressive neurological disease", _PRT),
    Caution(SURGERY, "After arthroscopic rotator cuff repair: two weeks of strict immobilisation, "
            "staged passive motion in weeks 2 to 6, then active motion, progressive strengthening "
            "from week 12; loaded overhead work only as a functional progression. The surgeon's "
            "plan decides.", _ASSET),
    Caution(SAFETY, "A grip that fails drops the load. Bottoms-up and overhead carries: low "
            "height, clear floor, closed footwear, a spotter or a rack nearby.", COMMON_PRACTICE),
    Caution(SAFETY, "A clear, dry, straight lane with room to put the load down; no backwards or "
            "blind turns.", COMMON_PRACTICE),
    Caution(SAFETY, "Load both sides alike unless directed otherwise.", COMMON_PRACTICE),
    Caution(SAFETY, "Grip often gives out before the trunk does: write down why a bout stopped.",
            COMMON_PRACTICE),
)  # fmt: skip
"""Every caution, in the order in which it is shown."""


def caution_groups() -> tuple[tuple[str, tuple[Caution, ...]], ...]:
    """Return the headings in order, each with its cautions."""
    headings = dict.fromkeys(item.heading for item in CAUTIONS)
    return tuple(
        (heading, tuple(item for item in CAUTIONS if item.heading == heading))
        for heading in headings
    )
