// Every function of the C interface: status and message, outputs untouched on errors, arrays like single numbers, NULL.

#include <ferment/c.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <ferment/core/error.hpp>
#include <stdexcept>
#include <string>
#include <string_view>

#include "fuzz.hpp"

namespace fuzz {
namespace {

/// Throws what a status says, with its message, so that the messages of C are checked like those of C++.
void passed(const enum ferment_status status) {
    const std::string message = ferment_last_error();
    switch (status) {
        case FERMENT_OK: return;
        case FERMENT_OUT_OF_RANGE: throw ferment::RangeError(message);
        case FERMENT_BAD_INPUT: throw ferment::InputError(message);
        case FERMENT_NO_SOLUTION: throw ferment::SolveError(message);
        default: throw std::logic_error("status " + std::to_string(status) + ": " + message);
    }
}
void must(const bool holds, const char* const what) {
    if (!holds) throw std::logic_error(what);
}
bool same(const double a, const double b) {
    return std::memcmp(&a, &b, sizeof a) == 0 || (std::isnan(a) && std::isnan(b));
}

using One = enum ferment_status (*)(const double* x, const int* options, double* r);
using Many = enum ferment_status (*)(std::size_t n, const double* const* x, const int* options, int outside, double* r, std::size_t* first_bad);

/// A function of numbers beside its twin for arrays.
void numbers(const double* const x, const std::size_t inputs, const std::size_t options, const One one, const Many many, Results& out) {
    int chosen[2] = {};
    for (std::size_t i = 0; i < options; ++i) chosen[i] = static_cast<int>(x[inputs + i]);
    constexpr double untouched = 123.25;
    double r = untouched;
    const enum ferment_status status = one(x, chosen, &r);
    const std::string message = status == FERMENT_OK ? "" : ferment_last_error();
    must(status == FERMENT_OK || r == untouched, "a result is written on an error");
    must(one(x, chosen, nullptr) == FERMENT_BAD_INPUT, "NULL is taken for a result");

    constexpr std::size_t n = 3;
    double columns[3][n] = {};
    const double* pointers[3] = {};
    bool any_nan = false;
    for (std::size_t i = 0; i < inputs; ++i) {
        any_nan = any_nan || std::isnan(x[i]);
        for (std::size_t k = 0; k < n; ++k) columns[i][k] = k == 1 ? x[i] : std::nan("");
        pointers[i] = columns[i];
    }
    double results[n] = {untouched, untouched, untouched};
    std::size_t first_bad = 77;
    const enum ferment_status of_array = many(n, pointers, chosen, FERMENT_STOP, results, &first_bad);
    must(of_array == status, "an array has another status than a number");
    if (status == FERMENT_OK) {
        must(first_bad == n && same(results[1], r) && std::isnan(results[0]) && std::isnan(results[2]), "an array has other results than a number");
    } else {
        const std::string of_element = ferment_last_error();
        must(of_element == "element [1]: " + message || of_element == message, "an array has another message than a number");
        must(results[0] == untouched && results[1] == untouched && results[2] == untouched, "results of an array are written on an error");
        must(of_element == message || first_bad == 1, "the first bad element is another");
    }
    first_bad = 77;
    const enum ferment_status going_on = many(n, pointers, chosen, FERMENT_NAN, results, &first_bad);
    if (going_on == FERMENT_OK) {
        must(status == FERMENT_OK ? same(results[1], r) : std::isnan(results[1]), "an array that goes on has other results");
        must(first_bad == (status == FERMENT_OK ? n : 1), "the first bad element is another");
    }
    must(many(0, pointers, chosen, FERMENT_STOP, nullptr, nullptr) != FERMENT_OUT_OF_RANGE, "an empty array is out of range");
    must(many(n, pointers, chosen, 2, results, nullptr) == FERMENT_BAD_INPUT, "an unknown way of going on is taken");
    const double* none[3] = {};
    must(many(n, none, chosen, FERMENT_STOP, results, nullptr) == FERMENT_BAD_INPUT, "NULL is taken for inputs");
    if (status != FERMENT_OK) {
        double again = untouched;
        must(one(x, chosen, &again) == status && message == ferment_last_error(), "the same call says something else");
    }
    if (any_nan && status == FERMENT_OK) must(std::isnan(r), "NaN in, a number out");
    passed(status);
    out << r;
}

#define ENTRY_1(f, a)                                                                                                                                \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a}, [](const double* x, Results& out) {                                                                                       \
              numbers(x, 1, 0, [](const double* y, const int*, double* r) { return f(y[0], r); },                                                            \
                      [](std::size_t n, const double* const* y, const int*, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], outside, r, bad); }, out); } \
    }
#define ENTRY_2(f, a, b)                                                                                                                             \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, b}, [](const double* x, Results& out) {                                                                                    \
              numbers(x, 2, 0, [](const double* y, const int*, double* r) { return f(y[0], y[1], r); },                                                      \
                      [](std::size_t n, const double* const* y, const int*, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], y[1], outside, r, bad); }, out); } \
    }
#define ENTRY_3(f, a, b, c)                                                                                                                          \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, b, c}, [](const double* x, Results& out) {                                                                                 \
              numbers(x, 3, 0, [](const double* y, const int*, double* r) { return f(y[0], y[1], y[2], r); },                                                \
                      [](std::size_t n, const double* const* y, const int*, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], y[1], y[2], outside, r, bad); }, out); } \
    }
#define ENTRY_1_WITH_1(f, a)                                                                                                                         \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, option(4)}, [](const double* x, Results& out) {                                                                            \
              numbers(x, 1, 1, [](const double* y, const int* o, double* r) { return f(y[0], o[0], r); },                                                    \
                      [](std::size_t n, const double* const* y, const int* o, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], o[0], outside, r, bad); }, out); } \
    }
#define ENTRY_1_WITH_2(f, a)                                                                                                                         \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, option(4), option(2)}, [](const double* x, Results& out) {                                                                 \
              numbers(x, 1, 2, [](const double* y, const int* o, double* r) { return f(y[0], o[0], o[1], r); },                                              \
                      [](std::size_t n, const double* const* y, const int* o, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], o[0], o[1], outside, r, bad); }, out); } \
    }
#define ENTRY_2_WITH_1(f, a, b)                                                                                                                      \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, b, option(4)}, [](const double* x, Results& out) {                                                                         \
              numbers(x, 2, 1, [](const double* y, const int* o, double* r) { return f(y[0], y[1], o[0], r); },                                              \
                      [](std::size_t n, const double* const* y, const int* o, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], y[1], o[0], outside, r, bad); }, out); } \
    }
#define ENTRY_2_WITH_2(f, a, b)                                                                                                                      \
    Entry {                                                                                                                                          \
#f " " #f "_array", {a, b, option(7), option(4)}, [](const double* x, Results& out) {                                                              \
              numbers(x, 2, 2, [](const double* y, const int* o, double* r) { return f(y[0], y[1], o[0], o[1], r); },                                        \
                      [](std::size_t n, const double* const* y, const int* o, int outside, double* r, std::size_t* bad) { return f##_array(n, y[0], y[1], o[0], o[1], outside, r, bad); }, out); } \
    }

/// A struct of results: untouched on errors, refused as NULL and without its size; gives all of it as numbers.
template <class S, class F>
S result(const F& call) {
    S s;
    std::memset(static_cast<void*>(&s), 0x5a, sizeof s);
    s.size = sizeof s;
    const S before = s;
    const enum ferment_status status = call(&s);
    const std::string message = ferment_last_error();
    if (status != FERMENT_OK) must(std::memcmp(&s, &before, sizeof s) == 0, "a struct is written on an error");
    must(call(nullptr) == FERMENT_BAD_INPUT, "NULL is taken for a struct");
    s.size = 3;
    must(call(&s) == FERMENT_BAD_INPUT, "an impossible size is taken");
    if (status != FERMENT_OK) {
        s.size = sizeof s;
        must(call(&s) == status && message == ferment_last_error(), "the same call says something else");
    }
    if (status == FERMENT_OK) s = before;
    if (status == FERMENT_OK) (void)call(&s);
    passed(status);
    return s;
}
template <class S>
S usual_values(enum ferment_status (*init)(S*, std::size_t)) {
    S s;
    passed(init(&s, sizeof s));
    must(init(nullptr, sizeof s) == FERMENT_BAD_INPUT, "NULL is taken for a struct");
    must(init(&s, 1) == FERMENT_BAD_INPUT, "an impossible size is taken");
    must(init(&s, 100000) == FERMENT_BAD_INPUT, "an impossible size is taken");
    passed(init(&s, sizeof s));
    return s;
}
void give(Results& out, const ferment_measured& m) {
    out << m.value << m.standard_uncertainty;
}
void give(Results& out, const ferment_spirit& s) {
    out << s.abv << s.abw << s.mass_kg << s.ethanol_kg << s.volume_l << s.volume_at_temperature_l << s.pure_alcohol_l;
}
void give(Results& out, const ferment_dilution& d) {
    give(out, d.spirit);
    give(out, d.result);
    out << d.water_kg << d.water_l << d.contraction_l;
}
void give(Results& out, const ferment_found_strength& f) {
    give(out, f.abv);
    give(out, f.abw);
    give(out, f.real_extract);
}

ferment_hydrometer hydrometer(const double* const x) {
    auto h = usual_values<ferment_hydrometer>(ferment_hydrometer_init);
    h.scale = static_cast<std::int64_t>(x[0]);
    h.calibration_c = x[1];
    h.glass_expansion = x[2];
    h.meniscus = x[3];
    return h;
}
ferment_refractometer refractometer(const double* const x) {
    auto r = usual_values<ferment_refractometer>(ferment_refractometer_init);
    r.scale = static_cast<std::int64_t>(x[0]);
    r.zero = x[1];
    return r;
}
/// A bill of one or two grains, given back at the end.
struct Bill {
    ferment_bill* handle = nullptr;
    explicit Bill(const double kg) {
        must(ferment_bill_create(nullptr) == FERMENT_BAD_INPUT, "NULL is taken for a handle");
        passed(ferment_bill_create(&handle));
        must(ferment_bill_add(handle, "no grain", kg) == FERMENT_BAD_INPUT, "an unknown grain is taken");
        must(ferment_bill_add(handle, nullptr, kg) == FERMENT_BAD_INPUT, "NULL is taken for a name");
        must(ferment_bill_add(nullptr, "wheat", kg) == FERMENT_BAD_INPUT, "NULL is taken for a bill");
        const enum ferment_status status = ferment_bill_add(handle, "wheat", kg);
        if (status != FERMENT_OK) ferment_bill_destroy(handle);
        passed(status);
    }
    Bill(const Bill&) = delete;
    Bill& operator=(const Bill&) = delete;
    ~Bill() { ferment_bill_destroy(handle); }
};
template <class H>
struct Handle {
    H* handle = nullptr;
    void (*destroy)(H*);
    explicit Handle(void (*const d)(H*)) : destroy(d) { d(nullptr); }
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() { destroy(handle); }
};
ferment_assumptions assumptions(const double* const x) {
    auto a = usual_values<ferment_assumptions>(ferment_assumptions_init);
    a.conversion = {x[0], x[1]};
    a.fermentation_efficiency = {x[2], x[3]};
    return a;
}
ferment_still still(const double* const x) {
    auto s = usual_values<ferment_still>(ferment_still_init);
    s.boiler_l = x[0];
    s.heating_kw = x[1];
    s.heat_loss = x[2];
    s.pressure_kpa = x[3];
    return s;
}
constexpr Input share{50.0, 100.0}, doubt{0.0, 10.0}, warm{0.0, 40.0}, litres{0.5, 50.0}, strong{20.0, 95.0};
// A plan with a hole in it is no plan.
constexpr unsigned planned = derived | nan_is_error;

}  // namespace

std::vector<Entry> entries() {
    std::vector<Entry> table{
        ENTRY_1(ferment_water_density, (Input{0.0, 40.0})),
        ENTRY_2(ferment_sucrose_density, (Input{0.0, 60.0}), (Input{0.0, 40.0})),
        ENTRY_2(ferment_extract_from_density, (Input{780.0, 1250.0}), (Input{0.0, 40.0})),
        ENTRY_1(ferment_glucose_density, (Input{0.0, 60.0})),
        ENTRY_1(ferment_glucose_from_density, (Input{780.0, 1250.0})),
        ENTRY_2(ferment_extract_per_litre, (Input{0.0, 60.0}), (Input{0.0, 40.0})),
        ENTRY_2(ferment_extract_from_per_litre, (Input{0.0, 500.0}), (Input{0.0, 40.0})),
        ENTRY_1_WITH_2(ferment_plato_from_sg, (Input{1.0, 1.3})),
        ENTRY_1_WITH_2(ferment_sg_from_plato, (Input{0.0, 60.0})),
        ENTRY_1_WITH_2(ferment_sg_from_density, (Input{780.0, 1250.0})),
        ENTRY_1_WITH_2(ferment_density_from_sg, (Input{1.0, 1.3})),
        ENTRY_1(ferment_density_in_air, (Input{780.0, 1250.0})),
        ENTRY_1(ferment_density_in_vacuum, (Input{780.0, 1250.0})),
        ENTRY_1(ferment_points_from_sg, (Input{1.0, 1.3})),
        ENTRY_1(ferment_sg_from_points, (Input{0.0, 60.0})),
        ENTRY_2(ferment_spirit_density, (Input{0.0, 60.0}), (Input{0.0, 40.0})),
        ENTRY_2(ferment_abw_from_density, (Input{780.0, 1250.0}), (Input{0.0, 40.0})),
        ENTRY_2(ferment_abv_from_density, (Input{780.0, 1250.0}), (Input{0.0, 40.0})),
        ENTRY_1(ferment_abv_from_abw, (Input{0.0, 60.0})),
        ENTRY_1(ferment_abw_from_abv, (Input{0.0, 90.0})),
        ENTRY_1(ferment_us_proof_from_abv, (Input{0.0, 90.0})),
        ENTRY_1(ferment_abv_from_us_proof, (Input{0.0, 200.0})),
        ENTRY_1(ferment_us_proof_from_abw, (Input{0.0, 60.0})),
        ENTRY_1(ferment_abw_from_us_proof, (Input{0.0, 200.0})),
        ENTRY_2(ferment_apparent_abv, (Input{0.0, 90.0}), (Input{0.0, 500.0})),
        ENTRY_2(ferment_abv_of_sweetened, (Input{0.0, 90.0}), (Input{0.0, 500.0})),
        ENTRY_3(ferment_wash_density, (Input{0.0, 30.0}), (Input{0.0, 30.0}), (Input{0.0, 40.0})),
        ENTRY_2(ferment_wash_gravity, (Input{0.0, 30.0}), (Input{0.0, 30.0})),
        ENTRY_2(ferment_wash_abv, (Input{0.0, 30.0}), (Input{0.0, 30.0})),
        ENTRY_2(ferment_wash_abw, (Input{0.0, 90.0}), (Input{0.0, 30.0})),
        ENTRY_3(ferment_wash_extract, (Input{780.0, 1250.0}), (Input{0.0, 30.0}), (Input{0.0, 40.0})),
        ENTRY_3(ferment_wash_abw_from_density, (Input{780.0, 1250.0}), (Input{0.0, 30.0}), (Input{0.0, 40.0})),
        ENTRY_3(ferment_boiling_point, (Input{0.0, 30.0}), (Input{20.0, 110.0}), (Input{0.0, 30.0})),
        ENTRY_3(ferment_vapour_abw, (Input{0.0, 30.0}), (Input{20.0, 110.0}), (Input{0.0, 30.0})),
        ENTRY_3(ferment_relative_volatility, (Input{0.0, 30.0}), (Input{20.0, 110.0}), (Input{0.0, 30.0})),
        ENTRY_2(ferment_dew_point, (Input{0.0, 95.0}), (Input{20.0, 110.0})),
        ENTRY_2(ferment_abw_from_vapour_abw, (Input{0.0, 95.0}), (Input{20.0, 110.0})),
        ENTRY_1(ferment_azeotrope_c, (Input{20.0, 110.0})),
        ENTRY_1(ferment_azeotrope_abw, (Input{20.0, 110.0})),
        ENTRY_1(ferment_ethanol_vapour_pressure, (Input{0.0, 40.0})),
        ENTRY_1(ferment_water_vapour_pressure, (Input{0.0, 40.0})),
        ENTRY_1(ferment_pressure_at_altitude, (Input{-5000.0, 11000.0})),
        ENTRY_1(ferment_altitude_of_pressure, (Input{20.0, 110.0})),
        ENTRY_2(ferment_station_pressure, (Input{85.0, 110.0}), (Input{-5000.0, 11000.0})),
        ENTRY_1(ferment_mole_percent_from_abw, (Input{0.0, 30.0})),
        ENTRY_1(ferment_abw_from_mole_percent, (Input{0.0, 100.0})),
        ENTRY_1(ferment_water_refractive_index, (Input{10.0, 40.0})),
        ENTRY_2(ferment_sucrose_refractive_index, (Input{0.0, 60.0}), (Input{10.0, 40.0})),
        ENTRY_2(ferment_brix_from_refractive_index, (Input{1.333, 1.48}), (Input{10.0, 40.0})),
        ENTRY_1(ferment_glucose_refractive_index, (Input{0.0, 60.0})),
        ENTRY_1(ferment_glucose_from_refractive_index, (Input{1.333, 1.48})),
        ENTRY_2(ferment_hydrolysate_refractive_index, (Input{0.0, 60.0}), (Input{10.0, 40.0})),
        ENTRY_2(ferment_hydrolysate_from_refractive_index, (Input{1.333, 1.48}), (Input{10.0, 40.0})),
        ENTRY_1(ferment_hydrolysate_from_brix, (Input{0.0, 60.0})),
        ENTRY_2(ferment_spirit_refractive_index, (Input{0.0, 30.0}), (Input{10.0, 40.0})),
        ENTRY_2(ferment_abw_from_refractive_index, (Input{1.333, 1.48}), (Input{10.0, 40.0})),
        ENTRY_3(ferment_wash_refractive_index, (Input{0.0, 30.0}), (Input{0.0, 30.0}), (Input{10.0, 40.0})),
        ENTRY_3(ferment_wash_extract_from_refractive_index, (Input{1.333, 1.48}), (Input{0.0, 30.0}), (Input{10.0, 40.0})),
        ENTRY_3(ferment_wash_abw_from_refractive_index, (Input{1.333, 1.48}), (Input{0.0, 30.0}), (Input{10.0, 40.0})),
        ENTRY_2(ferment_ventilation_m3_per_h, (Input{0.0, 1000.0}), (Input{1000.0, 40000.0})),
        ENTRY_3(ferment_alcoholometer_abv, (Input{0.0, 90.0}), (Input{0.0, 40.0}), (Input{0.0, 1e-3})),
        ENTRY_3(ferment_alcoholometer_us_proof, (Input{0.0, 200.0}), (Input{0.0, 40.0}), (Input{0.0, 1e-3})),
        ENTRY_3(ferment_alcoholometer_reads_abv, (Input{0.0, 90.0}), (Input{0.0, 40.0}), (Input{0.0, 1e-3})),
        ENTRY_3(ferment_alcoholometer_reads_us_proof, (Input{0.0, 200.0}), (Input{0.0, 40.0}), (Input{0.0, 1e-3})),
        ENTRY_2_WITH_2(ferment_abv_from_gravity, (Input{1.0, 1.13}), (Input{0.98, 1.06})),
        ENTRY_2_WITH_1(ferment_original_gravity_from_abv, (Input{0.0, 90.0}), (Input{0.98, 1.06})),
        ENTRY_1_WITH_1(ferment_least_final_gravity, (Input{1.0, 1.13})),
        ENTRY_1_WITH_1(ferment_apparent_extract, (Input{1.0, 1.3})),
        // Options are numbers too, and named as such; some messages name a strength that was reckoned from two inputs.
    };
    for (Entry& e : table) {
        e.rules |= derived;
        if (e.names.find("points") != std::string_view::npos) e.rules |= infinite_is_fine;  // of any gravity, and any points
    }
    const std::vector<Entry> rest{
        {"ferment_last_error ferment_version ferment_interface_version ferment_cautions",
         {option(2)},
         [](const double*, Results& out) {
             must(ferment_last_error() != nullptr && std::string_view(ferment_version()).size() > 2 && std::string_view(ferment_cautions()).size() > 100,
                  "a text is missing");
             out << ferment_interface_version();
         }},
        {"ferment_hydrometer_init ferment_hydrometer_correct",
         {option(3), warm, {0.0, 1e-3}, {-0.01, 0.01}, {0.98, 1.1}, warm, option(4), {0.0, 20.0}},
         [](const double* x, Results& out) {
             const ferment_hydrometer h = hydrometer(x);
             const auto r = result<ferment_hydrometer_reading>(
                 [&](ferment_hydrometer_reading* to) { return ferment_hydrometer_correct(&h, x[4], x[5], static_cast<int>(x[6]), x[7], to); });
             out << r.sg << r.density_at_sample << r.abw << r.abv << r.extract;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"ferment_hydrometer_reads",
         {option(3), warm, {0.0, 1e-3}, {-0.01, 0.01}, {0.0, 40.0}, {0.0, 30.0}, warm},
         [](const double* x, Results& out) {
             const ferment_hydrometer h = hydrometer(x);
             double r = 0.0;
             passed(ferment_hydrometer_reads(&h, x[4], x[5], x[6], &r));
             out << r;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"ferment_refractometer_init ferment_refractometer_correct_wort",
         {option(3), {-0.01, 0.01}, {1.0, 60.0}, {10.0, 40.0}, option(2)},
         [](const double* x, Results& out) {
             const ferment_refractometer p = refractometer(x);
             const auto r = result<ferment_refracted_wort>(
                 [&](ferment_refracted_wort* to) { return ferment_refractometer_correct_wort(&p, x[2], x[3], static_cast<int>(x[4]), to); });
             out << r.brix << r.dry_matter << r.refractive_index << r.refractive_index_at_sample;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"ferment_refractometer_correct_wash",
         {option(3), {-0.01, 0.01}, {1.0, 20.0}, {10.0, 40.0}, option(4), {0.0, 15.0}},
         [](const double* x, Results& out) {
             const ferment_refractometer p = refractometer(x);
             const auto r = result<ferment_refracted_wash>(
                 [&](ferment_refracted_wash* to) { return ferment_refractometer_correct_wash(&p, x[2], x[3], static_cast<int>(x[4]), x[5], to); });
             out << r.abw << r.abv << r.extract << r.refractive_index_at_sample;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"ferment_refractometer_reads",
         {option(3), {-0.01, 0.01}, {0.0, 40.0}, {0.0, 30.0}, {10.0, 40.0}},
         [](const double* x, Results& out) {
             const ferment_refractometer p = refractometer(x);
             double r = 0.0;
             passed(ferment_refractometer_reads(&p, x[2], x[3], x[4], &r));
             out << r;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"ferment_gravity_balance",
         {{1.03, 1.13}, {0.99, 1.03}, option(4)},
         [](const double* x, Results& out) {
             const auto w =
                 result<ferment_fermented_wash>([&](ferment_fermented_wash* to) { return ferment_gravity_balance(x[0], x[1], static_cast<int>(x[2]), to); });
             out << w.abv << w.abw << w.original_extract << w.real_extract << w.apparent_extract << w.liquid;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"ferment_abv_from_hydrometer_and_brix",
         {{0.98, 1.02}, {0.0, 0.001}, {2.0, 12.0}, {0.0, 0.2}},
         [](const double* x, Results& out) {
             give(out,
                  result<ferment_found_strength>([&](ferment_found_strength* to) { return ferment_abv_from_hydrometer_and_brix(x[0], x[1], x[2], x[3], to); }));
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_abv_from_hydrometer_and_refractometer",
         {{0.98, 1.02}, {0.0, 0.001}, {1.335, 1.35}, {0.0, 0.0003}},
         [](const double* x, Results& out) {
             give(out, result<ferment_found_strength>(
                           [&](ferment_found_strength* to) { return ferment_abv_from_hydrometer_and_refractometer(x[0], x[1], x[2], x[3], to); }));
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_dilute",
         {{50.0, 95.0}, litres, {10.0, 50.0}, warm, warm},
         [](const double* x, Results& out) {
             give(out, result<ferment_dilution>([&](ferment_dilution* to) { return ferment_dilute(x[0], x[1], x[2], x[3], x[4], to); }));
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_add_water",
         {strong, litres, litres, warm, warm},
         [](const double* x, Results& out) {
             give(out, result<ferment_dilution>([&](ferment_dilution* to) { return ferment_add_water(x[0], x[1], x[2], x[3], x[4], to); }));
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_dilute_to_volume",
         {{50.0, 95.0}, {10.0, 50.0}, litres, warm},
         [](const double* x, Results& out) {
             give(out, result<ferment_dilution>([&](ferment_dilution* to) { return ferment_dilute_to_volume(x[0], x[1], x[2], x[3], to); }));
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_blend",
         {strong, litres, warm, strong, litres, warm, warm, {0.0, 2.0, true}},
         [](const double* x, Results& out) {
             const double abv[] = {x[0], x[3]}, volume[] = {x[1], x[4]}, temperature[] = {x[2], x[5]};
             const auto n = static_cast<std::size_t>(x[7] < 0.0 ? 0.0 : x[7] > 2.0 ? 2.0 : x[7]);
             const auto b = result<ferment_blended>([&](ferment_blended* to) { return ferment_blend(n, abv, volume, temperature, x[6], to); });
             give(out, b.result);
             out << b.contraction_l;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"ferment_bottles",
         {strong, litres, {0.1, 2.0}, warm, warm},
         [](const double* x, Results& out) {
             const auto b = result<ferment_bottling>([&](ferment_bottling* to) { return ferment_bottles(x[0], x[1], x[2], x[3], x[4], to); });
             out << static_cast<double>(b.bottles) << b.fill_l << b.volume_at_fill_l << b.rest_l;
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_bill_create ferment_bill_add ferment_bill_grain_kg ferment_bill_destroy ferment_grain_count ferment_grain_name",
         {{0.1, 100.0}, option(100)},
         [](const double* x, Results& out) {
             std::size_t count = 0;
             passed(ferment_grain_count(&count));
             const char* name = nullptr;
             passed(ferment_grain_name(static_cast<std::size_t>(x[1] < 0.0 ? 0.0 : x[1]), &name));
             must(name != nullptr && *name != '\0', "a grain without a name");
             const Bill bill(x[0]);
             passed(ferment_bill_add(bill.handle, name, x[0]));
             double kg = 0.0;
             passed(ferment_bill_grain_kg(bill.handle, &kg));
             out << kg;
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"ferment_assumptions_init ferment_potential ferment_end_point",
         {share, doubt, share, doubt, {1.0, 50.0}, {10.0, 200.0}, option(2)},
         [](const double* x, Results& out) {
             const Bill bill(x[4]);
             const ferment_assumptions a = assumptions(x);
             const auto y = result<ferment_yield>([&](ferment_yield* to) { return ferment_potential(bill.handle, x[5], &a, static_cast<int>(x[6]), to); });
             give(out, y.pure_alcohol_l);
             give(out, y.original_gravity);
             const auto e = result<ferment_finished_wash>([&](ferment_finished_wash* to) { return ferment_end_point(bill.handle, x[5], &a, to); });
             give(out, e.abv);
             give(out, e.gravity);
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"ferment_conditions_init ferment_fermentation_create ferment_fermentation_destroy ferment_reading_init ferment_forecast_create "
         "ferment_forecast_quantiles ferment_forecast_done_h ferment_forecast_done_by ferment_forecast_destroy ferment_check_create ferment_check_get "
         "ferment_check_standing_probability ferment_check_cause_probability ferment_check_says ferment_check_warning ferment_check_destroy "
         "ferment_standing_text ferment_cause_text",
         {share,
          doubt,
          share,
          doubt,
          {5.0, 50.0},
          {20.0, 200.0},
          {0.01, 0.5},
          {5.0, 35.0},
          {5.0, 30.0},
          {5.0, 30.0},
          {1.0, 100.0},
          {0.99, 1.06},
          {0.0005, 0.003},
          option(6),
          option(4),
          option(8)},
         [](const double* x, Results& out) {
             const Bill bill(x[4]);
             const ferment_assumptions a = assumptions(x);
             auto c = usual_values<ferment_conditions>(ferment_conditions_init);
             c.yeast_kg = x[6];
             c.mash_c = x[7];
             const double hours[] = {0.0, 24.0}, temperatures[] = {x[8], x[9]};
             c.logged_n = 2;
             c.logged_hours = hours;
             c.logged_temperatures_c = temperatures;
             Handle<ferment_fermentation> f(ferment_fermentation_destroy);
             passed(ferment_fermentation_create(bill.handle, x[5], &a, &c, &f.handle));
             auto reading = usual_values<ferment_reading>(ferment_reading_init);
             reading.time_h = x[10];
             reading.gravity = {x[11], x[12]};
             Handle<ferment_forecast> forecast(ferment_forecast_destroy);
             constexpr std::size_t members = 2;
             const double times[] = {x[10]};
             passed(ferment_forecast_create(f.handle, 1, times, 0, nullptr, members, 7, &forecast.handle));
             double spread[FERMENT_QUANTILES];
             passed(ferment_forecast_quantiles(forecast.handle, static_cast<int>(x[13]), FERMENT_QUANTILES, spread));
             for (const double y : spread) out << y;
             must(ferment_forecast_quantiles(forecast.handle, 0, 3, spread) == FERMENT_BAD_INPUT, "a wrong count is taken");
             passed(ferment_forecast_done_h(forecast.handle, spread));
             double y = 0.0;
             passed(ferment_forecast_done_by(forecast.handle, x[10], &y));
             Handle<ferment_check> check(ferment_check_destroy);
             passed(ferment_check_create(f.handle, 1, &reading, members, 7, &check.handle));
             (void)result<ferment_check_summary>([&](ferment_check_summary* to) { return ferment_check_get(check.handle, to); });
             passed(ferment_check_standing_probability(check.handle, static_cast<int>(x[14]), &y));
             out << y;
             passed(ferment_check_cause_probability(check.handle, static_cast<int>(x[15]), &y));
             out << y;
             const char* text = nullptr;
             passed(ferment_check_says(check.handle, &text));
             passed(ferment_check_warning(check.handle, &text));
             passed(ferment_standing_text(static_cast<int>(x[14]), &text));
             passed(ferment_cause_text(static_cast<int>(x[15]), &text));
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"ferment_still_init ferment_charges",
         {{50.0, 300.0}, {1.0, 20.0}, {0.0, 20.0}, {90.0, 105.0}, {50.0, 2000.0}, {4.0, 12.0}, {0.0, 5.0}, {0.0, 20.0}, {10.0, 50.0}},
         [](const double* x, Results& out) {
             const ferment_still s = still(x);
             const auto p = result<ferment_charge_plan>([&](ferment_charge_plan* to) { return ferment_charges(&s, x[4], x[5], x[6], x[7], x[8], to); });
             out << static_cast<double>(p.count) << p.charge.abv << p.usable_l << p.head_space;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"ferment_run_init ferment_strip",
         {{50.0, 300.0},
          {1.0, 20.0},
          {0.0, 20.0},
          {90.0, 105.0},
          {20.0, 200.0},
          {4.0, 12.0},
          {0.0, 5.0},
          option(5),
          {1.0, 90.0},
          {2.0, 11.0, true},
          {5.0, 40.0}},
         [](const double* x, Results& out) {
             const ferment_still s = still(x);
             auto run = usual_values<ferment_run>(ferment_run_init);
             run.end_by = static_cast<std::int64_t>(x[7]);
             run.end = x[8];
             run.points = static_cast<std::int64_t>(x[9]);
             run.start_c = x[10];
             const auto r = result<ferment_stripping>([&](ferment_stripping* to) { return ferment_strip(&s, x[4], x[5], x[6], &run, to); });
             out << r.low_wines.abv << r.low_wines.volume_l << r.pot.mass_kg << r.boiling_start_c << r.boiling_end_c;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"ferment_plan_request_init ferment_plan_create ferment_plan_get ferment_plan_fraction ferment_plan_sheet ferment_plan_destroy",
         {{100.0, 300.0},
          {2.0, 20.0},
          {0.0, 20.0},
          {90.0, 105.0},
          share,
          doubt,
          share,
          doubt,
          {5.0, 40.0},
          {50.0, 150.0},
          option(4),
          {0.0, 4.0},
          {30.0, 50.0},
          option(4)},
         [](const double* x, Results& out) {
             const Bill bill(x[8]);
             const ferment_still s = still(x);
             const ferment_assumptions a = assumptions(x + 4);
             auto r = usual_values<ferment_plan_request>(ferment_plan_request_init);
             r.stripping_still = &s;
             r.water_kg = x[9];
             r.plates = static_cast<std::int64_t>(x[10]);
             r.take_off = x[11];
             r.target_abv = x[12];
             Handle<ferment_plan> plan(ferment_plan_destroy);
             passed(ferment_plan_create(bill.handle, &a, &r, &plan.handle));
             const auto summary = result<ferment_plan_summary>([&](ferment_plan_summary* to) { return ferment_plan_get(plan.handle, to); });
             give(out, summary.hearts_l);
             out << summary.energy_kwh << summary.total_h << summary.balance_error;
             const auto f = result<ferment_fraction>([&](ferment_fraction* to) { return ferment_plan_fraction(plan.handle, static_cast<int>(x[13]), to); });
             out << f.content.mass_kg << f.alcohol_share;
             const char* text = nullptr;
             passed(ferment_plan_sheet(plan.handle, &text));
             must(std::string_view(text).size() > 100, "an empty sheet");
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
    };
    table.insert(table.end(), rest.begin(), rest.end());
    return table;
}

}  // namespace fuzz
