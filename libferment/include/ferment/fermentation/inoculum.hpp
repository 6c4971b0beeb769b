#pragma once
// What is pitched: yeast and enzymes.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/source.hpp>
#include <string>

namespace ferment {

inline constexpr source yeast_cells{
    "yeast_cells",
    "cells in a gram of active dry yeast",
    "general knowledge of the trade: 15 to 25 thousand million",
    "active dry distillers yeast",
    "a quarter",
    source_status::from_memory,
};
inline constexpr double cells_per_gram = 2e10;  // yeast_cells

/// What goes into the mash to make it ferment.
struct Inoculum {
    double yeast_kg = 0.0;     ///< dry
    double enzyme_dose = 1.0;  ///< 1 = the dose that the enzyme's maker states for uncooked grain
    double nutrients = 1.0;    ///< factor on the yeast that can grow: 1 = the grain's own nitrogen, 2 to 3 = plenty added

    friend bool operator==(const Inoculum&, const Inoculum&) = default;
};

namespace detail {

inline constexpr num::interval yeast_range{0.0, 1e5};  // kg
inline constexpr num::interval dose_range{0.0, 20.0};  // more is a slip of the unit
inline constexpr num::interval nutrients_range{0.1, 10.0};

inline void require_number(const std::string& what, const double value) {
    if (!std::isfinite(value)) {
        throw InputError(what + " is " + (std::isnan(value) ? "not a number" : "infinite"));
    }
}

inline void require_inoculum(const Inoculum& inoculum) {
    require_number("yeast", inoculum.yeast_kg);
    require_number("enzyme dose", inoculum.enzyme_dose);
    require_number("nutrients", inoculum.nutrients);
    if (inoculum.yeast_kg <= 0.0) {
        throw RangeError("yeast " + format_quantity(inoculum.yeast_kg, "kg") + " must be more than 0 kg: nothing ferments without");
    }
    require_inside("yeast", inoculum.yeast_kg, "kg", yeast_range, "dry yeast");
    require_inside("enzyme dose", inoculum.enzyme_dose, "of the full dose", dose_range, "1 is what its maker states for uncooked grain");
    require_inside("nutrients", inoculum.nutrients, "of the grain's own", nutrients_range, "a factor on the yeast that can grow");
}

}  // namespace detail

/// Dry yeast that holds so many cells.
///   million_cells_per_ml   of mash, more than 0, at most 1000
///   mash                   volume, more than 0
///   ->                     kg. Throws RangeError or InputError. Source: yeast_cells, from memory.
inline mass<> yeast_of_cells(const double million_cells_per_ml, const volume<>& mash) {
    detail::require_number("cells", million_cells_per_ml);
    detail::require_number("volume of mash", mash.value());
    constexpr num::interval cells_range{0.0, 1000.0};
    require_inside("cells", million_cells_per_ml, "million per mL", cells_range, "a thick slurry has a thousand");
    if (million_cells_per_ml <= 0.0) {
        throw RangeError("cells " + format_quantity(million_cells_per_ml, "million per mL") + " must be more than 0");
    }
    if (mash.value() <= 0.0) {
        throw RangeError("volume of mash " + format_quantity(value_in(mash, litre), "L") + " must be more than 0 L");
    }
    constexpr double million = 1e6;
    constexpr double ml_per_cubic_metre = 1e6;
    constexpr double gram = 1e-3;
    return mass<>::from_value(million_cells_per_ml * million * mash.value() * ml_per_cubic_metre / cells_per_gram * gram);
}

}  // namespace ferment
