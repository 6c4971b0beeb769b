#include <pybind11/numpy.h>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/fermentation/check.hpp>
#include <ferment/fermentation/fit.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "course.hpp"
#include "instruction_set.hpp"
#include "module.hpp"

namespace ferment_python {

namespace py = pybind11;
using namespace ferment;

namespace {

using Doubles = py::array_t<double, py::array::c_style | py::array::forcecast>;

py::array_t<double> array(const std::vector<double>& values) {
    return py::array_t<double>(static_cast<py::ssize_t>(values.size()), values.data());
}

/// A row of quantiles for each time.
py::array_t<double> array(const Band& band, const double scale = 1.0) {
    py::array_t<double> values({band.size(), band_shares.size()});
    auto at = values.mutable_unchecked<2>();
    for (std::size_t i = 0; i < band.size(); ++i) {
        for (std::size_t q = 0; q < band_shares.size(); ++q) at(static_cast<py::ssize_t>(i), static_cast<py::ssize_t>(q)) = scale * band[i][q];
    }
    return values;
}

py::tuple spread(const Spread& quantiles, const double scale = 1.0) {
    py::tuple values(quantiles.size());
    for (std::size_t q = 0; q < quantiles.size(); ++q) values[q] = scale * quantiles[q];
    return values;
}

/// {"mean": of every parameter, "root": of the covariance}
Belief belief_from(const py::dict& values) {
    const auto mean = values["mean"].cast<Doubles>();
    const auto root = values["root"].cast<Doubles>();
    Belief belief;
    for (Eigen::Index i = 0; i < Belief::size; ++i) {
        belief.mean[i] = mean.at(i);
        for (Eigen::Index j = 0; j < Belief::size; ++j) belief.root(i, j) = root.at(i, j);
    }
    return belief;
}

py::dict belief_to(const Belief& belief) {
    py::array_t<double> mean(Belief::size);
    py::array_t<double> root({Belief::size, Belief::size});
    for (Eigen::Index i = 0; i < Belief::size; ++i) {
        mean.mutable_at(i) = belief.mean[i];
        for (Eigen::Index j = 0; j < Belief::size; ++j) root.mutable_at(i, j) = belief.root(i, j);
    }
    py::dict d;
    d["mean"] = mean;
    d["root"] = root;
    return d;
}

std::optional<measured> measured_from(const py::handle& pair) {
    if (pair.is_none()) return std::nullopt;
    const auto [value, uncertainty] = pair.cast<std::pair<double, double>>();
    return measured{value, uncertainty};
}

/// {"time_h", "gravity": (value, standard uncertainty) or None, "temperature_c", "co2_lost_kg", "iodine": bool or None}
Reading reading_from(const py::dict& values) {
    Reading r;
    r.time_h = values["time_h"].cast<double>();
    r.gravity = measured_from(values["gravity"]);
    r.temperature = measured_from(values["temperature_c"]);
    r.co2_lost = measured_from(values["co2_lost_kg"]);
    r.iodine = values["iodine"].cast<std::optional<bool>>();
    return r;
}

std::vector<Reading> readings_from(const py::list& items) {
    std::vector<Reading> readings;
    for (const py::handle item : items) readings.push_back(reading_from(item.cast<py::dict>()));
    return readings;
}

/// Python's whole numbers have a sign.
std::size_t members_from(const std::int64_t members) {
    const auto count = static_cast<double>(members);
    if (members < 0) require_inside("members", count, "", {2.0, static_cast<double>(ferment::detail::most_members)}, "of an ensemble");
    return static_cast<std::size_t>(members);
}

py::dict fitted_to(const Fitted& fitted) {
    py::list residuals;
    for (const Residual& r : fitted.residuals) residuals.append(py::make_tuple(r.time_h, text(r.what), r.read, r.fitted, r.deviation));
    py::dict d;
    d["belief"] = belief_to(fitted.belief);
    d["residuals"] = py::tuple(residuals);
    d["misfit"] = fitted.misfit;
    d["chance"] = fitted.chance;
    d["log_evidence"] = fitted.log_evidence;
    d["warning"] = fitted.warning;
    return d;
}

py::dict forecast_to(const Forecast& f) {
    py::dict d;
    d["time_h"] = array(f.time_h);
    d["gravity"] = array(f.gravity);
    d["abv"] = array(f.abv, percent);
    d["temperature_c"] = array(f.temperature);
    d["conversion"] = array(f.conversion, percent);
    d["co2_lost_kg"] = array(f.co2_lost);
    d["co2_l_per_h"] = array(f.co2_rate);
    d["iodine"] = array(f.iodine);
    d["done_h"] = array(f.done_h);
    d["members"] = f.members;
    return d;
}

/// ((name, probability), ...) for an enumeration that counts from zero.
template <class Enumeration, std::size_t N>
py::tuple probabilities(const std::array<double, N>& of) {
    py::tuple rows(N);
    for (std::size_t i = 0; i < N; ++i) rows[i] = py::make_tuple(text(to_string(static_cast<Enumeration>(i))), of[i]);
    return rows;
}

py::dict check_to(const Check& c) {
    py::list expected;
    for (const Expected& e : c.expected) expected.append(py::make_tuple(text(e.what), e.read, spread(e.range), e.z));
    py::dict d;
    d["time_h"] = c.time_h;
    d["expected"] = py::tuple(expected);
    d["conversion"] = spread(c.conversion, percent);
    d["abv"] = spread(c.abv, percent);
    d["gravity"] = spread(c.gravity);
    d["probability"] = probabilities<standing>(c.probability);
    d["cause_probability"] = probabilities<cause>(c.cause_probability);
    d["stands"] = text(to_string(c.stands));
    d["because"] = text(to_string(c.because));
    d["days_to_finish"] = spread(c.days_to_finish);
    d["end_gravity"] = spread(c.end_gravity);
    d["end_abv"] = spread(c.end_abv, percent);
    d["look_again_h"] = c.look_again_h;
    d["says"] = c.says;
    d["warning"] = c.warning;
    return d;
}

// The loops of an ensemble for each instruction set.
// NOLINTBEGIN(bugprone-macro-parentheses): an attribute cannot stand in parentheses
#define FERMENT_LANE_CODE(set, compiled_for)                                                                                                        \
    compiled_for void try_step_##set(const ferment::detail::LaneBatch& b, ferment::detail::CourseLanes& s) {                                        \
        ferment::detail::try_step(b, s);                                                                                                            \
    }                                                                                                                                               \
    compiled_for void within_step_##set(ferment::detail::CourseLanes& s) {                                                                          \
        ferment::detail::within_step(s);                                                                                                            \
    }                                                                                                                                               \
    compiled_for void take_step_##set(const ferment::detail::LaneBatch& b, ferment::detail::CourseLanes& s) {                                       \
        ferment::detail::take_step(b, s);                                                                                                           \
    }                                                                                                                                               \
    compiled_for void measure_##set(const ferment::detail::LaneBatch& b, const ferment::detail::CourseNumbers& n, ferment::detail::MemberRows& r) { \
        ferment::detail::measure(b, n, r);                                                                                                          \
    }                                                                                                                                               \
    constexpr EnsembleCode code_##set{&try_step_##set, &within_step_##set, &take_step_##set, &measure_##set};
// NOLINTEND(bugprone-macro-parentheses)

FERMENT_LANE_CODE(baseline, FERMENT_BASELINE)
#if FERMENT_HAS_X86_64_LEVELS
FERMENT_LANE_CODE(x86_64_v3, FERMENT_X86_64_V3)
FERMENT_LANE_CODE(x86_64_v4, FERMENT_X86_64_V4)
#endif
#undef FERMENT_LANE_CODE

EnsembleCode code_in_use() {
#if FERMENT_HAS_X86_64_LEVELS
    switch (instruction_set_in_use.load()) {
        case InstructionSet::x86_64_v4: return code_x86_64_v4;
        case InstructionSet::x86_64_v3: return code_x86_64_v3;
        case InstructionSet::baseline: break;
    }
#endif
    return code_baseline;
}

/// Threads, loops, and a look at whether the user wants to stop.
EnsembleOptions ensemble_options(const unsigned threads) {
    EnsembleOptions options;
    options.threads = threads;
    options.code = code_in_use();
    options.between = [] {
        const py::gil_scoped_acquire lock;
        if (PyErr_CheckSignals() != 0) throw py::error_already_set();
    };
    return options;
}

/// A forecast of which only the times of "done" are known.
Forecast only_done(const std::vector<double>& done_h) {
    Forecast f;
    f.done_h = done_h;
    return f;
}

}  // namespace

void bind_forecast(py::module_& m) {
    m.def("prior_belief", [] { return belief_to({}); });
    m.def("forecast", [](const py::dict& batch, const std::vector<double>& times_h, const py::dict& belief, const std::int64_t members,
                         const std::uint64_t seed, const unsigned threads) {
        const Batch of = batch_from(batch);
        const Belief believed = belief_from(belief);
        const std::size_t count = members_from(members);
        const EnsembleOptions options = ensemble_options(threads);
        return forecast_to([&] {
            const py::gil_scoped_release without_lock;
            return forecast(of.fermentation(), times_h, believed, count, seed, options);
        }());
    });
    m.def("forecast_with_readings", [](const py::dict& batch, const std::vector<double>& times_h, const py::list& readings, const std::int64_t members,
                                       const std::uint64_t seed, const unsigned threads) {
        const Batch of = batch_from(batch);
        const std::vector<Reading> read = readings_from(readings);
        const std::size_t count = members_from(members);
        const EnsembleOptions options = ensemble_options(threads);
        return forecast_to([&] {
            const py::gil_scoped_release without_lock;
            return forecast_with_readings(of.fermentation(), times_h, read, count, seed, options);
        }());
    });
    m.def("done_spread", [](const std::vector<double>& done_h) { return spread(only_done(done_h).done()); });
    m.def("done_by", [](const std::vector<double>& done_h, const std::vector<double>& hours) {
        const Forecast f = only_done(done_h);
        std::vector<double> shares;
        shares.reserve(hours.size());
        for (const double hour : hours) shares.push_back(std::isnan(hour) ? hour : f.done_by(hour));
        return array(shares);
    });
    m.def("validate_reading", [](const py::dict& reading) { ferment::detail::require_readings({reading_from(reading)}); });
    m.def("fit", [](const py::dict& batch, const py::list& readings) {
        const Batch of = batch_from(batch);
        const std::vector<Reading> read = readings_from(readings);
        return fitted_to([&] {
            const py::gil_scoped_release without_lock;
            return fit(of.fermentation(), read);
        }());
    });
    m.def("check", [](const py::dict& batch, const py::list& readings, const std::int64_t members, const std::uint64_t seed) {
        const Batch of = batch_from(batch);
        const std::vector<Reading> read = readings_from(readings);
        const std::size_t count = members_from(members);
        return check_to([&] {
            const py::gil_scoped_release without_lock;
            return check(of.fermentation(), read, count, seed);
        }());
    });
    py::tuple shares(band_shares.size());
    for (std::size_t i = 0; i < band_shares.size(); ++i) shares[i] = percent * band_shares[i];
    m.attr("band_shares") = shares;
    m.attr("usual_members") = usual_members;
    m.attr("most_members") = ferment::detail::most_members;
    m.attr("most_exact_members") = most_exact_members;
    m.attr("usual_seed") = usual_seed;
}

}  // namespace ferment_python
