#pragma once
// Uncertain values as Python sees them: {"value", "standard_uncertainty", "budget": [(input, contribution), ...]}.

#include <pybind11/pybind11.h>

#include <ferment/core/uncertain.hpp>

namespace ferment_python {

/// The value, its standard uncertainty and its budget, all times `scale` (100 turns a fraction into percent).
inline pybind11::dict estimate(const ferment::Uncertain& x, const double scale = 1.0) {
    pybind11::list budget;
    for (const ferment::contribution& part : x.budget()) {
        budget.append(pybind11::make_tuple(part.name, scale * part.amount));
    }
    pybind11::dict d;
    d["value"] = scale * x.value();
    d["standard_uncertainty"] = scale * x.standard_uncertainty();
    d["budget"] = pybind11::tuple(budget);
    return d;
}

}  // namespace ferment_python
