"""Fermentation, mash and proofing calculations for small distilleries and breweries.

    ferment.liquid        what liquids weigh, how they bend light, boil and hold heat: water, sugar, spirit, wash
    ferment.instrument    what a hydrometer, alcoholometer, refractometer or ebulliometer really says
    ferment.strength      how much alcohol is in it, from gravities or without an original one
    ferment.mash          what the grain can give
    ferment.fermentation  where a no-cook wash ends, and what a reading says on the way
    ferment.still         charges, stripping runs, columns, congeners, cuts
    ferment.proofing      blending, reduction with water, bottling
    ferment.batch         a whole batch planned from sacks to bottles, and the ledger of its alcohol
    ferment.plot          pictures of all of these; the only part that needs matplotlib
    ferment.sources()     every relation with citation, range and uncertainty

Percent and degrees Celsius everywhere: an ``abv`` of 40.0 is 40 % vol at 20 degC, ``abw`` and ``extract`` are % by mass; arguments end in
their unit (``_c``, ``_kg``, ``_l``). Functions of numbers take arrays as well, and numbers of the `uncertainties` package (uncertainties.ufloat):
the result then has its uncertainty to first order, tied to that of its inputs.
"""

import sys

from ferment import _keywords, batch, fermentation, instrument, liquid, mash, plot, proofing, still, strength
from ferment._core import (
    Error,
    InputError,
    RangeError,
    SolveError,
    __version__,
    instruction_set,
    instruction_sets,
    use_instruction_set,
)
from ferment._values import Estimate, Measured, Source, sources, to_frame

__all__ = [
    "Error",
    "Estimate",
    "InputError",
    "Measured",
    "RangeError",
    "SolveError",
    "Source",
    "__version__",
    "batch",
    "fermentation",
    "instruction_set",
    "instruction_sets",
    "instrument",
    "liquid",
    "mash",
    "plot",
    "proofing",
    "sources",
    "still",
    "strength",
    "to_frame",
    "use_instruction_set",
]

_keywords.install(sys.modules[__name__])
