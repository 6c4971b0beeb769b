#pragma once
// One function per source; module.cpp calls them all.

#include <pybind11/pybind11.h>

namespace ferment_python {

void bind_instruction_set(pybind11::module_& m);
void bind_core(pybind11::module_& m);
void bind_liquid(pybind11::module_& m);
void bind_refraction(pybind11::module_& m);
void bind_vapour(pybind11::module_& m);
void bind_enthalpy(pybind11::module_& m);
void bind_instrument(pybind11::module_& m);
void bind_strength(pybind11::module_& m);
void bind_strength_without_og(pybind11::module_& m);
void bind_mash(pybind11::module_& m);
void bind_fermentation(pybind11::module_& m);
void bind_course(pybind11::module_& m);
void bind_forecast(pybind11::module_& m);
void bind_still(pybind11::module_& m);
void bind_still_column(pybind11::module_& m);
void bind_still_congeners(pybind11::module_& m);
void bind_still_cuts(pybind11::module_& m);
void bind_proofing(pybind11::module_& m);
void bind_batch(pybind11::module_& m);
void bind_plans(pybind11::module_& m);

}  // namespace ferment_python
