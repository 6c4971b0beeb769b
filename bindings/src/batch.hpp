#pragma once
// A plan's request from plain Python values.

#include <pybind11/pybind11.h>

#include <deque>
#include <ferment/batch/plan.hpp>
#include <string>

namespace ferment_python {

/// A request and the text that its rules point to.
struct Asked {
    std::deque<std::string> text;
    ferment::PlanRequest request;
};

/// What PlanRequest.values of ferment.batch gives. Percent at the edge.
Asked asked_from(const pybind11::dict& values);

}  // namespace ferment_python
