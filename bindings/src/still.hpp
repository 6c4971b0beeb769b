#pragma once
// Liquids, figures and curves of a still from plain Python values and back. Percent at the edge.

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <array>
#include <cstddef>
#include <deque>
#include <ferment/core/error.hpp>
#include <ferment/still/charge.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "edge.hpp"

namespace ferment {
struct BoundaryRule;
struct ColumnRun;
struct ColumnStop;
struct RunConditions;
struct StillBill;
struct StillDuty;
struct Stripping;
struct StripStop;
struct TakeOff;
struct Windows;
}  // namespace ferment

namespace ferment_python {

/// Mass [kg], ethanol [% mass], extract [% mass].
using LiquidRow = std::array<double, 3>;

inline ferment::StillLiquid liquid_from(const LiquidRow& row) {
    return {row[0], row[1] / percent, row[2] / percent};
}

/// What ferment.still.Liquid is made of.
pybind11::dict liquid_to(const ferment::StillLiquid& liquid);

// The parts of a run, as the classes of ferment.still take and give them.
ferment::StillSetup setup_from(const pybind11::dict& values);
ferment::RunConditions conditions_from(const pybind11::dict& values);
ferment::StripStop strip_stop_from(std::string_view what, double value);
ferment::TakeOff take_off_from(const pybind11::dict& values);
ferment::ColumnStop column_stop_from(const pybind11::dict& values);
/// Rules point to text that must live as long as they do.
std::vector<ferment::BoundaryRule> boundary_rules_from(const pybind11::list& items, std::deque<std::string>& text);
pybind11::dict charges_to(const ferment::ChargePlan& plan);
pybind11::dict stripping_to(const ferment::Stripping& run);
pybind11::dict duty_to(const ferment::StillDuty& duty);
pybind11::dict still_bill_to(const ferment::StillBill& bill);
pybind11::dict column_run_to(const ferment::ColumnRun& run);
pybind11::dict windows_to(const ferment::Windows& found);

inline ferment::pressure<> kilopascals(const double p) {
    return p * ferment::kilopascal;
}

/// A member of a structure as Python calls it.
template <class Of>
struct Figure {
    const char* name = nullptr;
    double Of::*member = nullptr;
    double scale = 1.0;
};

/// {name: value}
template <class Of, std::size_t N>
pybind11::dict figures_to(const Of& of, const std::array<Figure<Of>, N>& figures) {
    pybind11::dict d;
    for (const Figure<Of>& figure : figures) d[figure.name] = figure.scale * (of.*figure.member);
    return d;
}

template <class Of, std::size_t N>
Of figures_from(const pybind11::dict& values, const std::array<Figure<Of>, N>& figures) {
    Of of{};
    for (const Figure<Of>& figure : figures) of.*figure.member = values[figure.name].template cast<double>() / figure.scale;
    return of;
}

inline pybind11::array_t<double> array_of(const std::vector<double>& values, const double scale = 1.0) {
    pybind11::array_t<double> out(static_cast<pybind11::ssize_t>(values.size()));
    double* at = out.mutable_data();
    for (std::size_t i = 0; i < values.size(); ++i) at[i] = scale * values[i];
    return out;
}

/// {name: an array with a value for each point}
template <class Point, std::size_t N>
pybind11::dict curve_to(const std::vector<Point>& curve, const std::array<Figure<Point>, N>& figures) {
    pybind11::dict d;
    for (const Figure<Point>& figure : figures) {
        std::vector<double> values;
        values.reserve(curve.size());
        for (const Point& point : curve) values.push_back(point.*figure.member);
        d[figure.name] = array_of(values, figure.scale);
    }
    return d;
}

template <class Point, std::size_t N>
std::vector<Point> curve_from(const pybind11::dict& values, const std::array<Figure<Point>, N>& figures) {
    std::vector<Point> curve;
    for (const Figure<Point>& figure : figures) {
        const auto column = values[figure.name].template cast<std::vector<double>>();
        if (curve.empty()) curve.resize(column.size());
        if (column.size() != curve.size()) throw ferment::InputError(std::string(figure.name) + " of the curve has another number of points than the rest");
        for (std::size_t i = 0; i < curve.size(); ++i) curve[i].*figure.member = column[i] / figure.scale;
    }
    return curve;
}

}  // namespace ferment_python
