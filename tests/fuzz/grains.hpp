#pragma once
// Grains, bills and assumptions made of plain numbers.

#include <ferment/mash.hpp>

#include "quantities.hpp"

namespace fuzz {

/// Moisture, starch, sugars, protein, fat, fibre, ash, and a doubt for all.
inline Grain grain_of(const double* const x) {
    Grain g;
    g.name = "a grain";
    g.form = "flour";
    measured Grain::*const parts[] = {&Grain::moisture, &Grain::starch, &Grain::sugars, &Grain::protein, &Grain::fat, &Grain::fibre, &Grain::ash};
    for (std::size_t i = 0; i < 7; ++i) g.*parts[i] = {x[i], x[7]};
    return g;
}
inline const std::vector<Input> grain_inputs{{0.08, 0.15}, {0.4, 0.65}, {0.0, 0.03}, {0.05, 0.12}, {0.0, 0.04}, {0.0, 0.06}, {0.0, 0.03}, {0.0, 0.02}};

inline std::vector<Input> joined(std::vector<Input> a, const std::vector<Input>& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

/// Conversion, efficiency and soluble share, each with its doubt.
inline Assumptions assumptions_of(const double* const x) {
    return {{x[0], x[1]}, {x[2], x[3]}, {x[4], x[5]}};
}
inline const std::vector<Input> assumption_inputs{{0.5, 1.0}, {0.0, 0.1}, {0.7, 1.0}, {0.0, 0.1}, {0.1, 0.3}, {0.0, 0.1}};

inline void give(Results& out, const Uncertain& u) {
    out << u.value() << u.standard_uncertainty();
}

}  // namespace fuzz
