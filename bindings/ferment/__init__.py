"""Fermentation, mash and proofing calculations for small distilleries and breweries.

    ferment.liquid        what liquids weigh: water, sugar, spirit, wash; gravities and strengths
    ferment.instrument    what a hydrometer or alcoholometer reading really says
    ferment.strength      how much alcohol is in it, from gravities
    ferment.mash          what the grain can give
    ferment.fermentation  where a no-cook wash ends, and what a reading says on the way
    ferment.proofing      blending, reduction with water, bottling
    ferment.sources()     every relation with citation, range and uncertainty

Percent and degrees Celsius everywhere: an ``abv`` of 40.0 is 40 % vol at 20 degC, ``abw`` and ``extract`` are % by mass; arguments end in
their unit (``_c``, ``_kg``, ``_l``). Functions of numbers take arrays as well.
"""

from ferment import fermentation, instrument, liquid, mash, proofing, strength
from ferment._core import Error, InputError, RangeError, SolveError, __version__
from ferment._values import Estimate, Measured, Source, sources

__all__ = [
    "Error",
    "Estimate",
    "InputError",
    "Measured",
    "RangeError",
    "SolveError",
    "Source",
    "__version__",
    "fermentation",
    "instrument",
    "liquid",
    "mash",
    "proofing",
    "sources",
    "strength",
]
