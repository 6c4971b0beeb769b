#include <array>
#include <cmath>
#include <cstddef>
#include <deque>
#include <ferment/still/congeners.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "module.hpp"
#include "still.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

using Levels = std::vector<std::pair<std::string, double>>;  // congener and g/hL of pure alcohol in the charge

constexpr source own_rule{
    "own_rule", "level at which a window ends", "given by the caller", "as the caller says", "as the caller says", source_status::common_practice,
};

py::dict congener_to(const Congener& c) {
    py::dict d;
    d["name"] = c.name;
    d["molar_mass"] = c.molar_mass;
    d["evidence"] = to_string(c.evidence);
    d["doubt_factor"] = c.doubt_factor;
    d["remark"] = c.remark;
    d["source"] = c.from.name;
    return d;
}

std::vector<RunPoint> points_from(const std::vector<double>& pot_kg, const std::vector<double>& pot_abw) {
    if (pot_kg.size() != pot_abw.size()) {
        throw InputError("points of a run: each needs a mass and a strength; the masses are " + std::to_string(pot_kg.size()) + ", the strengths " +
                         std::to_string(pot_abw.size()));
    }
    std::vector<RunPoint> points;
    for (std::size_t i = 0; i < pot_kg.size(); ++i) points.push_back({pot_kg[i], pot_abw[i] / percent});
    return points;
}

std::vector<CongenerCharge> charges_from(const Levels& levels) {
    std::vector<CongenerCharge> charges;
    for (const auto& [name, level] : levels) charges.push_back({congener(name), level});
    return charges;
}

py::dict run_to(const CongenerRun& run) {
    std::vector<double> kg;
    std::vector<double> w;
    for (const RunPoint& point : run.points) {
        kg.push_back(point.pot_kg);
        w.push_back(point.abw);
    }
    py::list courses;
    for (const CongenerCourse& course : run.courses) {
        py::dict d;
        d["name"] = course.of.name;
        d["pot_g"] = array_of(course.pot_g);
        d["collected_g"] = array_of(course.collected_g);
        d["grams_per_hl"] = array_of(course.grams_per_hl);
        courses.append(d);
    }
    py::dict d;
    d["pot_kg"] = array_of(kg);
    d["pot_abw"] = array_of(w, percent);
    d["collected_kg"] = array_of(run.collected_kg);
    d["ethanol_collected_kg"] = array_of(run.ethanol_collected_kg);
    d["distillate_abw"] = array_of(run.distillate_abw, percent);
    d["courses"] = courses;
    d["rectified"] = run.rectified;
    return d;
}

constexpr std::array<std::pair<std::string_view, boundary_by>, 4> bys{{
    {"of_start", boundary_by::of_start},
    {"of_charge", boundary_by::of_charge},
    {"grams_per_hl", boundary_by::grams_per_hl},
    {"strength", boundary_by::strength},
}};
constexpr std::array<std::pair<std::string_view, boundary_when>, 2> whens{{
    {"falls_below", boundary_when::falls_below},
    {"rises_above", boundary_when::rises_above},
}};

template <class Value, std::size_t N>
Value named(const char* what, const std::array<std::pair<std::string_view, Value>, N>& table, const std::string_view name) {
    std::string known;
    for (const auto& [one, value] : table) {
        if (one == name) return value;
        known.append(known.empty() ? "" : ", ").append(one);
    }
    throw InputError(std::string(what) + " " + in_quotes(name) + " is not known; known are " + known);
}

template <class Value, std::size_t N>
std::string_view name_of(const std::array<std::pair<std::string_view, Value>, N>& table, const Value value) {
    for (const auto& [name, one] : table) {
        if (one == value) return name;
    }
    return "unknown";
}

/// Strengths and shares are percent at the edge, a level in g/hL is not.
double scale_of(const boundary_by by) {
    return by == boundary_by::grams_per_hl ? 1.0 : percent;
}

/// 0.58 is 58 %, not 57.99999999999999.
double tidy(const double x) {
    constexpr double digits = 1e10;
    return std::round(x * digits) / digits;
}

py::dict rule_to(const BoundaryRule& rule) {
    const double scale = scale_of(rule.by);
    py::dict d;
    d["ends"] = rule.ends;
    d["congener"] = rule.congener;
    d["by"] = name_of(bys, rule.by);
    d["when"] = name_of(whens, rule.when);
    d["level"] = tidy(scale * rule.level);
    d["level_range"] = py::make_tuple(tidy(scale * rule.level_range.lower), tidy(scale * rule.level_range.upper));
    d["reason"] = rule.reason;
    d["source"] = rule.from.name;
    return d;
}

}  // namespace

std::vector<BoundaryRule> boundary_rules_from(const py::list& items, std::deque<std::string>& text) {
    std::vector<BoundaryRule> rules;
    for (const py::handle item : items) {
        const auto values = item.cast<py::dict>();
        const auto own = [&](const char* key) -> std::string_view { return text.emplace_back(values[key].cast<std::string>()); };
        const boundary_by by = named("boundary by", bys, own("by"));
        const double scale = scale_of(by);
        const auto [lower, upper] = values["level_range"].cast<std::pair<double, double>>();
        rules.push_back({own("ends"), own("congener"), by, named("boundary when", whens, own("when")), values["level"].cast<double>() / scale,
                         num::interval{lower / scale, upper / scale}, own("reason"), own_rule});
    }
    return rules;
}

py::dict windows_to(const Windows& found) {
    py::list boundaries;
    for (const Boundary& boundary : found.boundaries) {
        py::dict d;
        d["reached"] = boundary.reached;
        d["collected_kg"] = boundary.collected_kg;
        d["ethanol_share"] = percent * boundary.ethanol_share;
        d["distillate_abv"] = percent * boundary.distillate_abv;
        d["earliest_kg"] = boundary.earliest_kg;
        d["latest_kg"] = boundary.latest_kg;
        boundaries.append(d);
    }
    py::dict d;
    d["boundaries"] = boundaries;
    d["rectified"] = found.rectified;
    return d;
}

void bind_still_congeners(py::module_& m) {
    m.attr("windows_note") = windows_note;
    m.def("congener", [](const std::string& name) { return congener_to(congener(name)); });
    m.def("congeners", [] {
        py::list rows;
        for (const Congener& c : congeners) rows.append(congener_to(c));
        return rows;
    });
    m.def("congener_volatility", [](const std::string& name, const double abw_percent, const double pressure_kpa) {
        const auto found = congener_volatility(congener(name), abw_percent * percent_mass, kilopascals(pressure_kpa));
        py::dict d;
        d["by_moles"] = found.by_moles;
        d["by_mass"] = found.by_mass;
        d["against_ethanol"] = found.against_ethanol;
        d["vapour_abw"] = percent * found.vapour;
        return d;
    });
    m.def("congener_crossing", [](const std::string& name, const double pressure_kpa) {
        const pressure<> at = kilopascals(pressure_kpa);
        ferment::detail::require_boiling_pressure(at.value());
        return percent * trace_volatility::crossing(congener(name), at.value());
    });
    m.def("congener_run", [](const std::vector<double>& pot_kg, const std::vector<double>& pot_abw, const Levels& levels, const double pressure_kpa,
                             const double volatility_power) {
        const std::vector<RunPoint> points = points_from(pot_kg, pot_abw);
        const std::vector<CongenerCharge> charges = charges_from(levels);
        return run_to([&] {
            const py::gil_scoped_release without_lock;
            return congener_run(points, charges, kilopascals(pressure_kpa), volatility_power);
        }());
    });
    m.def("congener_run_with_ratios", [](const std::vector<double>& pot_kg, const std::vector<double>& pot_abw, const std::vector<double>& distillate_abw,
                                         const Levels& levels, const std::vector<std::vector<double>>& ratios) {
        std::vector<double> strengths;
        strengths.reserve(distillate_abw.size());
        for (const double w : distillate_abw) strengths.push_back(w / percent);
        const std::vector<CongenerCharge> charges = charges_from(levels);
        return run_to(congener_run(points_from(pot_kg, pot_abw), strengths, charges, ratios));
    });
    m.def("windows", [](const std::vector<double>& pot_kg, const std::vector<double>& pot_abw, const Levels& levels, const double pressure_kpa,
                        const std::optional<py::list>& rules) {
        const std::vector<RunPoint> points = points_from(pot_kg, pot_abw);
        const std::vector<CongenerCharge> charges = charges_from(levels);
        std::deque<std::string> text;
        const std::vector<BoundaryRule> own = boundary_rules_from(rules ? *rules : py::list(), text);
        return windows_to([&] {
            const py::gil_scoped_release without_lock;
            return rules ? windows(points, charges, kilopascals(pressure_kpa), own) : windows(points, charges, kilopascals(pressure_kpa));
        }());
    });
    m.def("usual_boundaries", [] {
        py::list rows;
        for (const BoundaryRule& rule : usual_boundaries) rows.append(rule_to(rule));
        return rows;
    });
    m.def("practice_figures", [] {
        py::list rows;
        for (const PracticeFigure& f : practice_figures) rows.append(py::make_tuple(f.what, f.low, f.high, f.unit, f.from.name));
        return rows;
    });
    m.def("legal_lines", [] {
        py::list rows;
        for (const LegalLine& line : legal_lines) {
            rows.append(py::make_tuple(line.product, line.compound, line.congener, line.grams_per_hl, line.at_most, line.from.citation));
        }
        return rows;
    });
}

}  // namespace ferment_python
