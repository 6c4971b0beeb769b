// The C interface against the C++ behind it: equal values, equal messages, every status, and nothing written on errors.

#include <ferment/c.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <ferment/batch/plan.hpp>
#include <ferment/fermentation/check.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/instrument/refractometer.hpp>
#include <ferment/liquid/carbon_dioxide.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/refraction.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/mash/grain_table.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/proofing/sweetening.hpp>
#include <ferment/still/duty.hpp>
#include <ferment/still/stripping.hpp>
#include <ferment/strength/gravity.hpp>
#include <ferment/strength/without_og.hpp>
#include <fstream>
#include <functional>
#include <limits>
#include <memory>
#include <new>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include "../../../libferment/src/guard.hpp"
#include "catch.hpp"

extern "C" {
// In c99.c, which a C compiler sees.
struct layout_line {
    const char* name;
    size_t offset;
    size_t size;
};
size_t ferment_test_layout(const struct layout_line** lines);
int ferment_test_calls(void);
}

namespace {

using namespace ferment;

constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
constexpr double untouched = -12345.0;

celsius<> degrees(const double t) {
    return t * degree_celsius;
}

bool equal(const double a, const double b) {
    return a == b || (std::isnan(a) && std::isnan(b));
}

/// The message of what a call throws.
std::string message_of(const std::function<void()>& call) {
    try {
        call();
    } catch (const Error& e) {
        return e.what();
    }
    return "no error";
}

template <std::size_t N>
using Row = std::array<double, N>;

template <std::size_t N, class F>
double call_door(const F& door, const Row<N>& row) {
    return std::apply(door, row);
}
template <std::size_t N, class F>
enum ferment_status call_one(const F& f, const Row<N>& row, double* const r) {
    return std::apply([&](const auto... x) { return f(x..., r); }, row);
}
template <std::size_t N, class F>
enum ferment_status call_each(const F& f, const std::vector<Row<N>>& rows, const int outside, double* const r, std::size_t* const first_bad) {
    std::array<std::vector<double>, N> columns;
    for (const Row<N>& row : rows) {
        for (std::size_t k = 0; k < N; ++k) columns[k].push_back(row[k]);
    }
    return std::apply([&](const auto&... c) { return f(rows.size(), c.data()..., outside, r, first_bad); }, columns);
}

/// A function and its twin for arrays against a door: values, NaN, NULL, an error, its message, arrays in both ways.
template <std::size_t N, class One, class Each, class Door>
void probe(const char* const name, const One& one, const Each& each, const Door& door, const std::vector<Row<N>>& good, const Row<N>& outside) {
    CAPTURE(name);
    REQUIRE(!good.empty());
    std::vector<double> expected;
    for (const Row<N>& row : good) {
        double r = untouched;
        CHECK(call_one(one, row, &r) == FERMENT_OK);
        expected.push_back(call_door(door, row));
        CHECK(r == expected.back());
    }
    for (std::size_t k = 0; k < N; ++k) {
        Row<N> row = good.front();
        row[k] = no_number;
        double r = untouched;
        CHECK(call_one(one, row, &r) == FERMENT_OK);
        CHECK(std::isnan(r));
    }
    CHECK(call_one(one, good.front(), nullptr) == FERMENT_BAD_INPUT);
    CHECK(std::string(ferment_last_error()).find("NULL") != std::string::npos);

    double r = untouched;
    const std::string message = message_of([&] { call_door(door, outside); });
    CHECK(call_one(one, outside, &r) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_last_error() == message);
    CHECK(r == untouched);

    std::vector<Row<N>> rows = good;
    std::vector<double> results(rows.size() + 1, untouched);
    std::size_t first_bad = 99;
    CHECK(call_each(each, rows, FERMENT_STOP, results.data(), &first_bad) == FERMENT_OK);
    CHECK(first_bad == rows.size());
    CHECK(std::equal(expected.begin(), expected.end(), results.begin()));

    rows.push_back(outside);
    std::fill(results.begin(), results.end(), untouched);
    CHECK(call_each(each, rows, FERMENT_STOP, results.data(), &first_bad) == FERMENT_OUT_OF_RANGE);
    CHECK(first_bad == good.size());
    CHECK(ferment_last_error() == "element [" + std::to_string(good.size()) + "]: " + message);
    CHECK(std::count(results.begin(), results.end(), untouched) == static_cast<std::ptrdiff_t>(results.size()));

    first_bad = 99;
    CHECK(call_each(each, rows, FERMENT_NAN, results.data(), &first_bad) == FERMENT_OK);
    CHECK(first_bad == good.size());
    CHECK(std::equal(expected.begin(), expected.end(), results.begin()));
    CHECK(std::isnan(results.back()));
    CHECK(call_each(each, rows, FERMENT_NAN, results.data(), nullptr) == FERMENT_OK);
    CHECK(call_each(each, rows, FERMENT_NAN + 1, results.data(), nullptr) == FERMENT_BAD_INPUT);
    CHECK(call_each(each, rows, FERMENT_STOP, nullptr, nullptr) == FERMENT_BAD_INPUT);
    first_bad = 99;
    CHECK(call_each(each, std::vector<Row<N>>{}, FERMENT_STOP, nullptr, &first_bad) == FERMENT_OK);
    CHECK(first_bad == 0);
}

#define PROBE(f, n, door, good, outside) probe<n>(#f, f, f##_array, door, std::vector<Row<n>> good, Row<n> outside)

struct Freed {
    void operator()(struct ferment_bill* const x) const { ferment_bill_destroy(x); }
    void operator()(struct ferment_fermentation* const x) const { ferment_fermentation_destroy(x); }
    void operator()(struct ferment_forecast* const x) const { ferment_forecast_destroy(x); }
    void operator()(struct ferment_check* const x) const { ferment_check_destroy(x); }
    void operator()(struct ferment_plan* const x) const { ferment_plan_destroy(x); }
};
template <class T>
using Owned = std::unique_ptr<T, Freed>;

Owned<struct ferment_bill> c_bill() {
    struct ferment_bill* made = nullptr;
    REQUIRE(ferment_bill_create(&made) == FERMENT_OK);
    Owned<struct ferment_bill> bill(made);
    REQUIRE(ferment_bill_add(made, "flaked barley", 14.0) == FERMENT_OK);
    REQUIRE(ferment_bill_add(made, "flaked rye", 4.0) == FERMENT_OK);
    REQUIRE(ferment_bill_add(made, "barley malt", 1.5) == FERMENT_OK);
    return bill;
}
Bill cpp_bill() {
    return Bill().add(grain("flaked barley"), 14.0 * kilogram).add(grain("flaked rye"), 4.0 * kilogram).add(grain("barley malt"), 1.5 * kilogram);
}
constexpr double water_kg = 72.0;

template <class S>
S sized() {
    S s{};
    s.size = sizeof(S);
    return s;
}
template <class S>
S usual(enum ferment_status (*const init)(S*, size_t)) {
    S s{};
    REQUIRE(init(&s, sizeof s) == FERMENT_OK);
    return s;
}

struct ferment_conditions c_conditions() {
    struct ferment_conditions c = usual(ferment_conditions_init);
    c.yeast_kg = 0.020;
    c.mash_c = 14.0;
    c.ambient_c = 21.0;
    c.ambient_swing_c = 3.0;
    return c;
}
Conditions cpp_conditions() {
    Conditions c;
    c.mash_c = 14.0;
    c.ambient = Ambient::day_night(21.0, 3.0, 15.0);
    return c;
}
Fermentation cpp_fermentation() {
    return Fermentation::of(cpp_bill(), potential(cpp_bill(), water_kg * kilogram, no_cook::assumptions()), {0.020, 1.0, 1.0}, cpp_conditions());
}
Owned<struct ferment_fermentation> c_fermentation() {
    const auto bill = c_bill();
    const struct ferment_assumptions assumed = usual(ferment_assumptions_init);
    const struct ferment_conditions c = c_conditions();
    struct ferment_fermentation* made = nullptr;
    REQUIRE(ferment_fermentation_create(bill.get(), water_kg, &assumed, &c, &made) == FERMENT_OK);
    return Owned<struct ferment_fermentation>(made);
}

bool same(const struct ferment_measured& c, const Uncertain& cpp, const double scale = 1.0) {
    return equal(c.value, scale * cpp.value()) && equal(c.standard_uncertainty, scale * cpp.standard_uncertainty());
}
bool same(const struct ferment_liquid& c, const StillLiquid& cpp) {
    return c.mass_kg == cpp.mass_kg && c.abw == 100.0 * cpp.abw && c.extract == 100.0 * cpp.extract && c.volume_l == cpp.volume_l() &&
           c.abv == 100.0 * cpp.abv() && c.pure_alcohol_l == cpp.pure_alcohol_l();
}

const auto kgm3 = [](const double x) { return x * kilogram_per_cubic_metre; };

}  // namespace

TEST_CASE("C: water, sugar and gravities are those of C++") {
    PROBE(ferment_water_density, 1, [](double t) { return water_density(degrees(t)).value(); }, ({{0.0}, {17.3}, {100.0}}), {100.1});
    PROBE(
        ferment_sucrose_density, 2, [](double w, double t) { return sucrose_density(w * degree_plato, degrees(t)).value(); },
        ({{0.0, 0.0}, {12.0, 20.0}, {70.0, 80.0}}), ({70.5, 20.0}));
    PROBE(
        ferment_extract_from_density, 2, [](double r, double t) { return value_in(extract_from_density(kgm3(r), degrees(t)), degree_plato); },
        ({{1040.0, 20.0}, {1200.0, 60.0}}), ({900.0, 20.0}));
    PROBE(ferment_glucose_density, 1, [](double w) { return glucose_density(w * degree_plato).value(); }, ({{0.0}, {60.0}}), {60.5});
    PROBE(ferment_glucose_from_density, 1, [](double r) { return value_in(glucose_from_density(kgm3(r)), degree_plato); }, ({{1040.0}}), {1400.0});
    PROBE(
        ferment_extract_per_litre, 2, [](double w, double t) { return value_in(extract_per_litre(w * degree_plato, degrees(t)), gram_per_litre); },
        ({{12.0, 20.0}}), ({12.0, 81.0}));
    PROBE(
        ferment_extract_from_per_litre, 2, [](double c, double t) { return value_in(extract_from_per_litre(c * gram_per_litre, degrees(t)), degree_plato); },
        ({{120.0, 20.0}}), ({-1.0, 20.0}));
    PROBE(ferment_density_in_air, 1, [](double r) { return density_in_air(kgm3(r)).value(); }, ({{1000.0}}), {1.0});
    PROBE(ferment_density_in_vacuum, 1, [](double r) { return density_in_vacuum(kgm3(r)).value(); }, ({{1000.0}}), {1.0});
    double r = untouched;
    CHECK(ferment_points_from_sg(1.048, &r) == FERMENT_OK);
    CHECK(r == points_from_sg(1.048 * sg_20_20));
    CHECK(ferment_sg_from_points(48.0, &r) == FERMENT_OK);
    CHECK(r == 1.048);
}

TEST_CASE("C: gravities at every reference, true and in air") {
    const auto check = [](const int reference, const auto frame_type) {
        using Reference = std::remove_const_t<decltype(frame_type)>;
        for (const int in_air : {0, 1}) {
            const double air = in_air == 0 ? 0.0 : conventional_air_density;
            CAPTURE(reference, in_air);
            // The options are the same for the whole array.
            const auto with = [=](const auto one) { return [=](double x, double* r) { return one(x, reference, in_air, r); }; };
            const auto with_n = [=](const auto each) {
                return [=](size_t n, const double* x, int outside, double* r, size_t* bad) { return each(n, x, reference, in_air, outside, r, bad); };
            };
            probe<1>("plato_from_sg", with(ferment_plato_from_sg), with_n(ferment_plato_from_sg_array),
                     [=](double sg) {
                         return value_in(extract_from_gravity<Reference>(gravity<Reference>::from_value(sg), air), extract<>::from_value(1.0)) * 100.0;
                     },
                     {{1.002}, {1.048}, {1.3}}, {0.9});
            probe<1>("sg_from_plato", with(ferment_sg_from_plato), with_n(ferment_sg_from_plato_array),
                     [=](double p) { return gravity_from_extract<Reference>(extract<>::from_value(p / 100.0), air).value(); }, {{0.0}, {12.0}}, {71.0});
            probe<1>("sg_from_density", with(ferment_sg_from_density), with_n(ferment_sg_from_density_array),
                     [=](double rho) { return sg_from_density<Reference>(kgm3(rho), air).value(); }, {{950.0}}, {1.0});
            probe<1>("density_from_sg", with(ferment_density_from_sg), with_n(ferment_density_from_sg_array),
                     [=](double sg) { return density_from_sg<Reference>(gravity<Reference>::from_value(sg), air).value(); }, {{0.95}}, {9.0});
        }
    };
    check(FERMENT_20_20, at_20_20{});
    check(FERMENT_15_15, at_15_15{});
    check(FERMENT_60F_60F, at_60f_60f{});
    check(FERMENT_20_4, at_20_4{});
    double r = untouched;
    CHECK(ferment_plato_from_sg(1.048, 4, 0, &r) == FERMENT_BAD_INPUT);
    CHECK(std::string(ferment_last_error()) == "reference of a gravity 4 is not known; allowed are 0 to 3");
    CHECK(ferment_plato_from_sg(no_number, -1, 0, &r) == FERMENT_BAD_INPUT);
    CHECK(ferment_plato_from_sg(1.048, FERMENT_20_20, 2, &r) == FERMENT_BAD_INPUT);
    CHECK(ferment_plato_from_sg_array(0, nullptr, 9, 0, FERMENT_STOP, nullptr, nullptr) == FERMENT_BAD_INPUT);
    CHECK(r == untouched);
}

TEST_CASE("C: spirit and wash are those of C++") {
    PROBE(
        ferment_spirit_density, 2, [](double p, double t) { return spirit_density(p * percent_mass, degrees(t)).value(); },
        ({{0.0, 4.0}, {33.3, 20.0}, {100.0, -20.0}}), ({33.3, 60.0}));
    PROBE(
        ferment_abw_from_density, 2, [](double r, double t) { return value_in(abw_from_density(kgm3(r), degrees(t)), percent_mass); }, ({{950.0, 20.0}}),
        ({1100.0, 20.0}));
    PROBE(
        ferment_abv_from_density, 2, [](double r, double t) { return value_in(abv_from_density(kgm3(r), degrees(t)), percent_vol); }, ({{950.0, 20.0}}),
        ({1100.0, 20.0}));
    PROBE(ferment_abv_from_abw, 1, [](double p) { return value_in(abv_from_abw(p * percent_mass), percent_vol); }, ({{0.0}, {33.3}, {100.0}}), {101.0});
    PROBE(ferment_abw_from_abv, 1, [](double q) { return value_in(abw_from_abv(q * percent_vol), percent_mass); }, ({{0.0}, {40.0}, {100.0}}), {-1.0});
    PROBE(ferment_us_proof_from_abv, 1, [](double q) { return us_proof_from_abv(q * percent_vol).value(); }, ({{50.0}}), {101.0});
    PROBE(ferment_abv_from_us_proof, 1, [](double s) { return value_in(abv_from_us_proof(s * us_proof_degree), percent_vol); }, ({{100.0}}), {201.0});
    PROBE(ferment_us_proof_from_abw, 1, [](double p) { return us_proof_from_abw(p * percent_mass).value(); }, ({{42.0}}), {101.0});
    PROBE(ferment_abw_from_us_proof, 1, [](double s) { return value_in(abw_from_us_proof(s * us_proof_degree), percent_mass); }, ({{100.0}}), {201.0});
    PROBE(
        ferment_apparent_abv, 2, [](double q, double c) { return value_in(apparent_strength(q * percent_vol, c), percent_vol); }, ({{40.0, 20.0}}),
        ({40.0, 501.0}));
    PROBE(
        ferment_abv_of_sweetened, 2, [](double q, double c) { return value_in(strength_of_sweetened(q * percent_vol, c), percent_vol); }, ({{35.0, 20.0}}),
        ({40.0, 501.0}));
    PROBE(
        ferment_wash_density, 3, [](double e, double x, double t) { return wash_density(e * percent_mass, x * degree_plato, degrees(t)).value(); },
        ({{6.0, 2.0, 24.0}}), ({6.0, 2.0, 41.0}));
    PROBE(
        ferment_wash_gravity, 2, [](double e, double x) { return wash_gravity(e * percent_mass, x * degree_plato).value(); }, ({{6.0, 2.0}}), ({6.0, 71.0}));
    PROBE(
        ferment_wash_abv, 2, [](double e, double x) { return value_in(wash_abv(e * percent_mass, x * degree_plato), percent_vol); }, ({{6.0, 2.0}}),
        ({101.0, 0.0}));
    PROBE(
        ferment_wash_abw, 2, [](double q, double x) { return value_in(wash_abw(q * percent_vol, x * degree_plato), percent_mass); }, ({{8.0, 2.0}}),
        ({101.0, 0.0}));
    PROBE(
        ferment_wash_extract, 3, [](double r, double e, double t) { return value_in(wash_extract(kgm3(r), e * percent_mass, degrees(t)), degree_plato); },
        ({{1000.0, 6.0, 20.0}}), ({900.0, 6.0, 20.0}));
    PROBE(
        ferment_wash_abw_from_density, 3,
        [](double r, double x, double t) { return value_in(wash_abw_from_density(kgm3(r), x * degree_plato, degrees(t)), percent_mass); },
        ({{1000.0, 3.0, 20.0}}), ({1200.0, 3.0, 20.0}));
}

TEST_CASE("C: boiling is that of C++") {
    const auto bubble = [](double e, double p, double x) { return bubble_point(e * percent_mass, x * degree_plato, p * kilopascal); };
    PROBE(
        ferment_boiling_point, 3, [&](double e, double p, double x) { return bubble(e, p, x).temperature.value(); }, ({{0.0, 101.325, 0.0}, {8.0, 95.0, 2.0}}),
        ({8.0, 10.0, 0.0}));
    PROBE(
        ferment_vapour_abw, 3, [&](double e, double p, double x) { return value_in(bubble(e, p, x).vapour, percent_mass); }, ({{8.0, 95.0, 2.0}}),
        ({8.0, 95.0, 31.0}));
    PROBE(
        ferment_relative_volatility, 3, [&](double e, double p, double x) { return bubble(e, p, x).relative_volatility; }, ({{8.0, 95.0, 2.0}}),
        ({101.0, 95.0, 0.0}));
    PROBE(
        ferment_dew_point, 2, [](double v, double p) { return dew_point(v * percent_mass, p * kilopascal).temperature.value(); }, ({{50.0, 101.325}}),
        ({50.0, 111.0}));
    PROBE(
        ferment_abw_from_vapour_abw, 2, [](double v, double p) { return value_in(dew_point(v * percent_mass, p * kilopascal).liquid, percent_mass); },
        ({{50.0, 101.325}}), ({101.0, 101.0}));
    PROBE(ferment_azeotrope_c, 1, [](double p) { return azeotrope(p * kilopascal).temperature.value(); }, ({{101.325}}), {19.0});
    PROBE(ferment_azeotrope_abw, 1, [](double p) { return value_in(azeotrope(p * kilopascal).strength, percent_mass); }, ({{101.325}}), {19.0});
    PROBE(ferment_ethanol_vapour_pressure, 1, [](double t) { return value_in(ethanol_vapour_pressure(degrees(t)), kilopascal); }, ({{78.0}}), {300.0});
    PROBE(ferment_water_vapour_pressure, 1, [](double t) { return value_in(water_vapour_pressure(degrees(t)), kilopascal); }, ({{100.0}}), {-1.0});
    PROBE(ferment_pressure_at_altitude, 1, [](double h) { return value_in(pressure_at_altitude(h * metre), kilopascal); }, ({{800.0}}), {12000.0});
    PROBE(ferment_altitude_of_pressure, 1, [](double p) { return altitude_of_pressure(p * kilopascal).value(); }, ({{95.0}}), {10.0});
    PROBE(
        ferment_station_pressure, 2, [](double p, double h) { return value_in(station_pressure(p * kilopascal, h * metre), kilopascal); }, ({{101.0, 400.0}}),
        ({80.0, 400.0}));
    PROBE(ferment_mole_percent_from_abw, 1, [](double e) { return value_in(mole_fraction_from_abw(e * percent_mass), percent_mole); }, ({{50.0}}), {101.0});
    PROBE(ferment_abw_from_mole_percent, 1, [](double z) { return value_in(abw_from_mole_fraction(z * percent_mole), percent_mass); }, ({{50.0}}), {101.0});
    PROBE(
        ferment_ventilation_m3_per_h, 2, [](double g, double l) { return ventilation_m3_per_h(g, l); }, ({{20.0, 5000.0}}), ({20.0, 1.0}));
}

TEST_CASE("C: refraction is that of C++") {
    PROBE(ferment_water_refractive_index, 1, [](double t) { return water_refractive_index(degrees(t)); }, ({{20.0}}), {61.0});
    PROBE(
        ferment_sucrose_refractive_index, 2, [](double w, double t) { return sucrose_refractive_index(w * degree_plato, degrees(t)); }, ({{12.0, 20.0}}),
        ({12.0, 41.0}));
    PROBE(
        ferment_brix_from_refractive_index, 2, [](double n, double t) { return value_in(brix_from_refractive_index(n, degrees(t)), degree_plato); },
        ({{1.35, 20.0}}), ({1.2, 20.0}));
    PROBE(ferment_glucose_refractive_index, 1, [](double w) { return glucose_refractive_index(w * degree_plato); }, ({{12.0}}), {61.0});
    PROBE(ferment_glucose_from_refractive_index, 1, [](double n) { return value_in(glucose_from_refractive_index(n), degree_plato); }, ({{1.35}}), {1.2});
    PROBE(
        ferment_hydrolysate_refractive_index, 2, [](double w, double t) { return hydrolysate_refractive_index(w * degree_plato, degrees(t)); },
        ({{12.0, 20.0}}), ({12.0, 61.0}));
    PROBE(
        ferment_hydrolysate_from_refractive_index, 2,
        [](double n, double t) { return value_in(hydrolysate_from_refractive_index(n, degrees(t)), degree_plato); }, ({{1.35, 20.0}}), ({1.2, 20.0}));
    PROBE(ferment_hydrolysate_from_brix, 1, [](double w) { return value_in(hydrolysate_from_brix(w * degree_plato), degree_plato); }, ({{12.0}}), {80.0});
    PROBE(
        ferment_spirit_refractive_index, 2, [](double e, double t) { return spirit_refractive_index(e * percent_mass, degrees(t)); }, ({{40.0, 20.0}}),
        ({101.0, 20.0}));
    PROBE(
        ferment_abw_from_refractive_index, 2, [](double n, double t) { return value_in(abw_from_refractive_index(n, degrees(t)), percent_mass); },
        ({{1.35, 20.0}}), ({1.2, 20.0}));
    PROBE(
        ferment_wash_refractive_index, 3, [](double e, double x, double t) { return wash_refractive_index(e * percent_mass, x * degree_plato, degrees(t)); },
        ({{6.0, 2.0, 20.0}}), ({6.0, 2.0, 41.0}));
    PROBE(
        ferment_wash_extract_from_refractive_index, 3,
        [](double n, double e, double t) { return value_in(wash_extract_from_refractive_index(n, e * percent_mass, degrees(t)), degree_plato); },
        ({{1.345, 6.0, 20.0}}), ({1.3, 6.0, 20.0}));
    PROBE(
        ferment_wash_abw_from_refractive_index, 3,
        [](double n, double x, double t) { return value_in(wash_abw_from_refractive_index(n, x * degree_plato, degrees(t)), percent_mass); },
        ({{1.345, 2.0, 20.0}}), ({1.3, 2.0, 20.0}));
}

TEST_CASE("C: alcoholometer and strength from two gravities are those of C++") {
    PROBE(
        ferment_alcoholometer_abv, 3, [](double q, double t, double b) { return value_in(Alcoholometer(b).correct(q * percent_vol, degrees(t)), percent_vol); },
        ({{67.2, 14.5, 25e-6}}), ({67.2, 41.0, 25e-6}));
    PROBE(
        ferment_alcoholometer_us_proof, 3, [](double s, double t, double b) { return Alcoholometer(b).correct(s * us_proof_degree, degrees(t)).value(); },
        ({{134.0, 14.5, 25e-6}}), ({134.0, 14.5, 1.0}));
    PROBE(
        ferment_alcoholometer_reads_abv, 3,
        [](double q, double t, double b) { return value_in(Alcoholometer(b).reads(q * percent_vol, degrees(t)), percent_vol); }, ({{69.0, 14.5, 25e-6}}),
        ({100.0, 30.0, 25e-6}));
    PROBE(
        ferment_alcoholometer_reads_us_proof, 3, [](double s, double t, double b) { return Alcoholometer(b).reads(s * us_proof_degree, degrees(t)).value(); },
        ({{138.0, 14.5, 25e-6}}), ({138.0, 41.0, 25e-6}));
    for (int method = 0; method < static_cast<int>(gravity_methods.size()); ++method) {
        CAPTURE(method);
        double r = untouched;
        CHECK(ferment_abv_from_gravity(1.048, 1.011, method, FERMENT_20_20, &r) == FERMENT_OK);
        CHECK(r == 100.0 * abv_from_gravity(1.048 * sg_20_20, 1.011 * sg_20_20, static_cast<gravity_method>(method)).value());
    }
    const auto with = [](const auto one) { return [=](double a, double b, double* r) { return one(a, b, FERMENT_DENSITY_BALANCE, FERMENT_15_15, r); }; };
    const auto with_n = [](const auto each) {
        return [=](size_t n, const double* a, const double* b, int outside, double* r, size_t* bad) {
            return each(n, a, b, FERMENT_DENSITY_BALANCE, FERMENT_15_15, outside, r, bad);
        };
    };
    probe<2>("abv_from_gravity", with(ferment_abv_from_gravity), with_n(ferment_abv_from_gravity_array),
             [](double og, double fg) { return 100.0 * abv_from_gravity<at_15_15>(og * sg_15_15, fg * sg_15_15).value(); }, {{1.06, 0.998}}, {1.2, 1.0});
    probe<2>(
        "original_gravity_from_abv", [](double a, double b, double* r) { return ferment_original_gravity_from_abv(a, b, FERMENT_15_15, r); },
        [](size_t n, const double* a, const double* b, int outside, double* r, size_t* bad) {
            return ferment_original_gravity_from_abv_array(n, a, b, FERMENT_15_15, outside, r, bad);
        },
        [](double q, double fg) { return original_gravity_from_abv_fg<at_15_15>(abv<>::from_value(q / 100.0), fg * sg_15_15).value(); }, {{8.0, 0.998}},
        {60.0, 1.0});
    probe<1>(
        "least_final_gravity", [](double a, double* r) { return ferment_least_final_gravity(a, FERMENT_15_15, r); },
        [](size_t n, const double* a, int outside, double* r, size_t* bad) { return ferment_least_final_gravity_array(n, a, FERMENT_15_15, outside, r, bad); },
        [](double og) { return least_final_gravity<at_15_15>(og * sg_15_15).value(); }, {{1.06}}, {1.2});
    probe<1>(
        "apparent_extract", [](double a, double* r) { return ferment_apparent_extract(a, FERMENT_15_15, r); },
        [](size_t n, const double* a, int outside, double* r, size_t* bad) { return ferment_apparent_extract_array(n, a, FERMENT_15_15, outside, r, bad); },
        [](double sg) { return 100.0 * apparent_extract<at_15_15>(sg * sg_15_15).value(); }, {{0.996}, {1.01}}, {0.5});
    double r = untouched;
    CHECK(ferment_abv_from_gravity(1.01, 1.02, FERMENT_DENSITY_BALANCE, FERMENT_20_20, &r) == FERMENT_BAD_INPUT);
    CHECK(ferment_abv_from_gravity(1.06, 1.0, 7, FERMENT_20_20, &r) == FERMENT_BAD_INPUT);
    CHECK(r == untouched);

    auto wash = sized<struct ferment_fermented_wash>();
    REQUIRE(ferment_gravity_balance(1.061, 0.997, FERMENT_20_20, &wash) == FERMENT_OK);
    const FermentedWash w = gravity_balance(1.061 * sg_20_20, 0.997 * sg_20_20);
    CHECK(wash.abv == value_in(w.strength, percent_vol));
    CHECK(wash.abw == value_in(w.strength_by_mass, percent_mass));
    CHECK(wash.original_extract == value_in(w.original_extract, degree_plato));
    CHECK(wash.real_extract == value_in(w.real_extract, degree_plato));
    CHECK(wash.apparent_extract == value_in(w.apparent_extract, degree_plato));
    CHECK(wash.apparent_attenuation == 100.0 * w.apparent_attenuation);
    CHECK(wash.real_attenuation == 100.0 * w.real_attenuation);
    CHECK(wash.real_degree_of_fermentation == 100.0 * w.degree_of_fermentation);
    CHECK(wash.extract_consumed == w.extract_consumed);
    CHECK(wash.carbon_dioxide == w.carbon_dioxide);
    CHECK(wash.yeast == w.yeast);
    CHECK(wash.liquid == w.liquid);
    CHECK(ferment_gravity_balance(1.061, no_number, FERMENT_20_20, &wash) == FERMENT_OK);
    CHECK(std::isnan(wash.abv));
    CHECK(std::isnan(wash.liquid));
    CHECK(ferment_gravity_balance(1.061, 0.997, FERMENT_20_20, nullptr) == FERMENT_BAD_INPUT);
}

TEST_CASE("C: hydrometer and refractometer are those of C++") {
    struct ferment_hydrometer h = usual(ferment_hydrometer_init);
    CHECK(h.calibration_c == 20.0);
    CHECK(h.glass_expansion == conventional_glass_expansion);
    h.calibration_c = 15.0;
    const Hydrometer glass(hydrometer_scale::specific_gravity, degrees(15.0));
    const std::array<CorrectedReading, 4> expected{glass.correct(1.012, degrees(24.0), SampleWort{}), glass.correct(0.97, degrees(24.0), SampleSpirit{}),
                                                   glass.correct(1.012, degrees(24.0), SampleWash{SampleWash::known::strength, 0.05}),
                                                   glass.correct(1.012, degrees(24.0), SampleWash{SampleWash::known::extract, 0.05})};
    for (int sample = 0; sample < 4; ++sample) {
        CAPTURE(sample);
        auto found = sized<struct ferment_hydrometer_reading>();
        REQUIRE(ferment_hydrometer_correct(&h, sample == FERMENT_SPIRIT ? 0.97 : 1.012, 24.0, sample, 5.0, &found) == FERMENT_OK);
        const CorrectedReading& e = expected[static_cast<std::size_t>(sample)];
        CHECK(found.sg == e.gravity.value());
        CHECK(found.density_at_sample == e.at_sample.value());
        CHECK(found.abw == value_in(e.strength, percent_mass));
        CHECK(found.extract == value_in(e.real_extract, degree_plato));
        CHECK(found.abv == value_in(wash_abv(e.strength, e.real_extract), percent_vol));
        CHECK(ferment_hydrometer_correct(&h, no_number, 24.0, sample, 5.0, &found) == FERMENT_OK);
        CHECK(std::isnan(found.sg));
        CHECK(found.size == sizeof found);
    }
    auto found = sized<struct ferment_hydrometer_reading>();
    found.sg = untouched;
    CHECK(ferment_hydrometer_correct(&h, 0.9, 24.0, FERMENT_WORT, 0.0, &found) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_hydrometer_correct(&h, 1.0, 24.0, 4, 0.0, &found) == FERMENT_BAD_INPUT);
    CHECK(ferment_hydrometer_correct(nullptr, 1.0, 24.0, FERMENT_WORT, 0.0, &found) == FERMENT_BAD_INPUT);
    CHECK(ferment_hydrometer_correct(&h, 1.0, 24.0, FERMENT_WORT, 0.0, nullptr) == FERMENT_BAD_INPUT);
    h.scale = 3;
    CHECK(ferment_hydrometer_correct(&h, 1.0, 24.0, FERMENT_WORT, 0.0, &found) == FERMENT_BAD_INPUT);
    CHECK(found.sg == untouched);
    h.scale = FERMENT_SCALE_PLATO;
    double r = untouched;
    CHECK(ferment_hydrometer_reads(&h, 5.0, 3.0, 24.0, &r) == FERMENT_OK);
    CHECK(r == Hydrometer(hydrometer_scale::plato, degrees(15.0)).reads(5.0 * percent_mass, 3.0 * degree_plato, degrees(24.0)));
    CHECK(ferment_hydrometer_reads(&h, 5.0, no_number, 24.0, &r) == FERMENT_OK);
    CHECK(std::isnan(r));

    const struct ferment_refractometer f = usual(ferment_refractometer_init);
    const Refractometer lens;
    for (const int sugar : {FERMENT_SUCROSE, FERMENT_STARCH_HYDROLYSATE}) {
        auto wort = sized<struct ferment_refracted_wort>();
        REQUIRE(ferment_refractometer_correct_wort(&f, 14.0, 23.0, sugar, &wort) == FERMENT_OK);
        const CorrectedRefraction e = lens.correct(14.0, degrees(23.0), static_cast<refractometer_sugar>(sugar));
        CHECK(wort.brix == value_in(e.brix, degree_plato));
        CHECK(wort.dry_matter == value_in(e.dry_matter, degree_plato));
        CHECK(wort.refractive_index == e.refractive_index);
        CHECK(wort.refractive_index_at_sample == e.at_sample);
    }
    for (const int sample : {FERMENT_WASH_OF_ABV, FERMENT_WASH_OF_EXTRACT}) {
        auto wash = sized<struct ferment_refracted_wash>();
        REQUIRE(ferment_refractometer_correct_wash(&f, 6.0, 23.0, sample, 3.0, &wash) == FERMENT_OK);
        const auto known = sample == FERMENT_WASH_OF_ABV ? SampleWash::known::strength : SampleWash::known::extract;
        const RefractedWash e = lens.correct(6.0, degrees(23.0), SampleWash{known, 0.03});
        CHECK(wash.abw == value_in(e.strength, percent_mass));
        CHECK(wash.abv == value_in(wash_abv(e.strength, e.real_extract), percent_vol));
        CHECK(wash.extract == value_in(e.real_extract, degree_plato));
        CHECK(wash.refractive_index_at_sample == e.at_sample);
        CHECK(ferment_refractometer_correct_wash(&f, 6.0, 23.0, sample, no_number, &wash) == FERMENT_OK);
        CHECK(std::isnan(wash.abv));
        CHECK(ferment_refractometer_correct_wash(&f, 6.0, 23.0, FERMENT_WORT, 3.0, &wash) == FERMENT_BAD_INPUT);
        CHECK(ferment_refractometer_correct_wash(&f, 6.0, 45.0, sample, 3.0, &wash) == FERMENT_OUT_OF_RANGE);
    }
    CHECK(ferment_refractometer_reads(&f, 5.0, 3.0, 24.0, &r) == FERMENT_OK);
    CHECK(r == lens.reads(5.0 * percent_mass, 3.0 * degree_plato, degrees(24.0)));
}

TEST_CASE("C: strength by hydrometer and refractometer is that of C++") {
    auto found = sized<struct ferment_found_strength>();
    REQUIRE(ferment_abv_from_hydrometer_and_brix(0.9972, 0.0005, 4.9, 0.1, &found) == FERMENT_OK);
    const Uncertain index = sucrose_refraction::index(Uncertain::input(4.9, 0.1, "brix") / 100.0, Uncertain(20.0));
    const FoundStrength e = strength_from_hydrometer_and_refractometer(Uncertain::input(0.9972, 0.0005, "gravity"), index);
    CHECK(same(found.abv, e.abv, 100.0));
    CHECK(same(found.abw, e.abw, 100.0));
    CHECK(same(found.real_extract, e.real_extract, 100.0));
    REQUIRE(ferment_abv_from_hydrometer_and_refractometer(0.9972, 0.0005, index.value(), index.standard_uncertainty(), &found) == FERMENT_OK);
    CHECK(same(found.abv, e.abv, 100.0));
    CHECK(ferment_abv_from_hydrometer_and_brix(0.9972, 0.0005, 75.0, 0.1, &found) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_abv_from_hydrometer_and_brix(no_number, 0.0005, 4.9, 0.1, &found) == FERMENT_BAD_INPUT);
    CHECK(ferment_abv_from_hydrometer_and_brix(0.9972, -1.0, 4.9, 0.1, &found) == FERMENT_BAD_INPUT);
    CHECK(ferment_abv_from_hydrometer_and_brix(0.9972, 0.0005, 4.9, 0.1, nullptr) == FERMENT_BAD_INPUT);
}

TEST_CASE("C: proofing is that of C++") {
    const auto same_spirit = [](const struct ferment_spirit& c, const SpiritMass& cpp, const double t) {
        return c.mass_kg == cpp.total.value() && c.ethanol_kg == cpp.ethanol.value() && c.abw == value_in(strength_of(cpp), percent_mass) &&
               c.abv == value_in(abv_from_abw(strength_of(cpp)), percent_vol) && c.volume_l == value_in(volume_of(cpp, degrees(20.0)), litre) &&
               c.volume_at_temperature_l == value_in(volume_of(cpp, degrees(t)), litre) && c.pure_alcohol_l == value_in(pure_alcohol(cpp), litre);
    };
    const SpiritMass spirit = weigh(7.0 * litre, abw_from_abv(68.0 * percent_vol), degrees(11.0));
    auto d = sized<struct ferment_dilution>();
    const auto same_dilution = [&](const Dilution& e, const double t) {
        return same_spirit(d.spirit, e.spirit, t) && same_spirit(d.result, e.result, t) && d.water_kg == e.water.value() &&
               d.water_l == value_in(e.water_volume, litre) && d.contraction_l == value_in(e.contraction, litre);
    };
    REQUIRE(ferment_dilute(68.0, 7.0, 40.0, 11.0, 8.0, &d) == FERMENT_OK);
    CHECK(same_dilution(dilute(spirit, abw_from_abv(40.0 * percent_vol), degrees(8.0)), 11.0));
    REQUIRE(ferment_add_water(68.0, 7.0, 5.0, 11.0, 8.0, &d) == FERMENT_OK);
    CHECK(same_dilution(add_water(spirit, 5.0 * kilogram, degrees(8.0)), 11.0));
    REQUIRE(ferment_dilute_to_volume(68.0, 40.0, 12.0, 8.0, &d) == FERMENT_OK);
    CHECK(same_dilution(dilute_to_volume(abw_from_abv(68.0 * percent_vol), abw_from_abv(40.0 * percent_vol), 12.0 * litre, degrees(8.0)), 20.0));
    d.water_kg = untouched;
    CHECK(ferment_dilute(40.0, 7.0, 68.0, 11.0, 8.0, &d) == FERMENT_OUT_OF_RANGE);
    CHECK(d.water_kg == untouched);
    CHECK(ferment_dilute(68.0, 7.0, 40.0, 11.0, 8.0, nullptr) == FERMENT_BAD_INPUT);

    const std::array<double, 2> abvs{68.0, 0.0}, litres{7.0, 2.0}, temperatures{11.0, 8.0};
    auto b = sized<struct ferment_blended>();
    REQUIRE(ferment_blend(2, abvs.data(), litres.data(), temperatures.data(), 15.0, &b) == FERMENT_OK);
    const std::array<SpiritMass, 2> parts{spirit, weigh(2.0 * litre, 0.0 * percent_mass, degrees(8.0))};
    CHECK(same_spirit(b.result, blend(parts), 15.0));
    CHECK(b.contraction_l == value_in(contraction(parts), litre));
    CHECK(ferment_blend(0, nullptr, nullptr, nullptr, 15.0, &b) == FERMENT_BAD_INPUT);
    CHECK(std::string(ferment_last_error()) == "blend: no spirit given");
    CHECK(ferment_blend(1, abvs.data(), nullptr, temperatures.data(), 15.0, &b) == FERMENT_BAD_INPUT);

    auto f = sized<struct ferment_bottling>();
    REQUIRE(ferment_bottles(40.0, 12.0, 0.7, 20.0, 15.0, &f) == FERMENT_OK);
    const Bottling e = bottles(weigh(12.0 * litre, abw_from_abv(40.0 * percent_vol), degrees(20.0)), 0.7 * litre, degrees(15.0));
    CHECK(f.bottles == e.full);
    CHECK(f.fill_l == value_in(e.fill_volume, litre));
    CHECK(f.volume_at_fill_l == value_in(e.volume_at_fill, litre));
    CHECK(f.rest_l == value_in(e.rest_at_20c, litre));
    CHECK(ferment_bottles(40.0, 12.0, 0.0, 20.0, 15.0, &f) == FERMENT_OUT_OF_RANGE);
}

TEST_CASE("C: grain, potential and end point are those of C++") {
    const auto bill = c_bill();
    double kg = 0.0;
    CHECK(ferment_bill_grain_kg(bill.get(), &kg) == FERMENT_OK);
    CHECK(kg == 19.5);
    CHECK(ferment_bill_add(bill.get(), "flaked barly", 1.0) == FERMENT_BAD_INPUT);
    CHECK(ferment_last_error() == message_of([] { grain("flaked barly"); }));
    CHECK(ferment_bill_add(bill.get(), "flaked rye", 0.0) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_bill_add(bill.get(), "flaked rye", no_number) == FERMENT_BAD_INPUT);
    CHECK(ferment_bill_add(bill.get(), nullptr, 1.0) == FERMENT_BAD_INPUT);
    CHECK(ferment_bill_add(nullptr, "flaked rye", 1.0) == FERMENT_BAD_INPUT);
    CHECK(ferment_bill_create(nullptr) == FERMENT_BAD_INPUT);
    ferment_bill_destroy(nullptr);
    CHECK(ferment_bill_grain_kg(bill.get(), &kg) == FERMENT_OK);
    CHECK(kg == 19.5);

    std::size_t count = 0;
    REQUIRE(ferment_grain_count(&count) == FERMENT_OK);
    std::set<std::string> names;
    for (std::size_t i = 0; i < count; ++i) {
        const char* name = nullptr;
        REQUIRE(ferment_grain_name(i, &name) == FERMENT_OK);
        CHECK(grain(name).name == name);
        names.insert(name);
    }
    const std::vector<std::string> known = grain_names();
    CHECK(names == std::set<std::string>(known.begin(), known.end()));
    const char* name = nullptr;
    CHECK(ferment_grain_name(count, &name) == FERMENT_OUT_OF_RANGE);
    CHECK(name == nullptr);

    const struct ferment_assumptions assumed = usual(ferment_assumptions_init);
    const Potential p = potential(cpp_bill(), water_kg * kilogram, no_cook::assumptions());
    for (const int at : {FERMENT_THEORETICAL, FERMENT_EXPECTED}) {
        CAPTURE(at);
        auto y = sized<struct ferment_yield>();
        REQUIRE(ferment_potential(bill.get(), water_kg, &assumed, at, &y) == FERMENT_OK);
        const Yield& e = at == FERMENT_THEORETICAL ? p.theoretical : p.expected;
        // The shares travel in percent and back, which costs the last digit.
        const auto close = [](const struct ferment_measured& c, const Uncertain& cpp, const double scale = 1.0) {
            constexpr double round_off = 1e-13;
            return std::abs(c.value - scale * cpp.value()) <= round_off * std::abs(c.value) &&
                   std::abs(c.standard_uncertainty - scale * cpp.standard_uncertainty()) <= 100.0 * round_off * std::abs(c.value);
        };
        CHECK(close(y.conversion, e.conversion, 100.0));
        CHECK(close(y.fermentation_efficiency, e.fermentation_efficiency, 100.0));
        CHECK(close(y.starch_converted_kg, e.starch_converted_kg));
        CHECK(close(y.extract_kg, e.extract_kg));
        CHECK(close(y.extract, e.extract, 100.0));
        CHECK(close(y.original_gravity, e.original_gravity));
        CHECK(close(y.ethanol_kg, e.ethanol_kg));
        CHECK(close(y.pure_alcohol_l, e.pure_alcohol_l));
        CHECK(close(y.co2_kg, e.co2_kg));
        CHECK(close(y.by_products_kg, e.by_products_kg) == (at == FERMENT_EXPECTED || y.by_products_kg.value == 0.0));
        CHECK(close(y.litre_degrees_per_kg, e.bill.litre_degrees_per_kg));
        CHECK(close(y.points_per_pound_per_gallon, e.bill.points_per_pound_per_gallon));
        CHECK(close(y.pure_alcohol_l_per_tonne, e.bill.pure_alcohol_l_per_tonne));
    }
    auto end = sized<struct ferment_finished_wash>();
    REQUIRE(ferment_end_point(bill.get(), water_kg, &assumed, &end) == FERMENT_OK);
    const EndPoint e = end_point(p);
    constexpr double round_off = 1e-13;
    CHECK(std::abs(end.abv.value / (100.0 * e.abv.value()) - 1.0) <= round_off);
    CHECK(std::abs(end.abw.value / (100.0 * e.abw.value()) - 1.0) <= round_off);
    CHECK(std::abs(end.gravity.value / e.gravity.value() - 1.0) <= round_off);
    CHECK(std::abs(end.wash_l.value / e.wash_volume_l.value() - 1.0) <= round_off);
    CHECK(std::abs(end.wash_kg.value / e.wash_kg.value() - 1.0) <= round_off);
    CHECK(std::abs(end.pure_alcohol_l.value / e.pure_alcohol_l.value() - 1.0) <= round_off);
    CHECK(std::abs(end.starch_left_kg.value / e.starch_left_kg.value() - 1.0) <= 10.0 * round_off);
    CHECK(std::abs(end.real_extract.value / (100.0 * e.real_extract.value()) - 1.0) <= round_off);

    auto y = sized<struct ferment_yield>();
    CHECK(ferment_potential(bill.get(), -1.0, &assumed, FERMENT_EXPECTED, &y) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_potential(bill.get(), 1.0, &assumed, FERMENT_EXPECTED, &y) == FERMENT_OUT_OF_RANGE);  // does not dissolve
    CHECK(ferment_potential(bill.get(), water_kg, nullptr, FERMENT_EXPECTED, &y) == FERMENT_BAD_INPUT);
    CHECK(ferment_potential(bill.get(), water_kg, &assumed, 2, &y) == FERMENT_BAD_INPUT);
    CHECK(ferment_potential(nullptr, water_kg, &assumed, FERMENT_EXPECTED, &y) == FERMENT_BAD_INPUT);
}

TEST_CASE("C: forecast is that of C++") {
    const auto batch = c_fermentation();
    const std::vector<double> hours{0.0, 48.0, 120.0, 336.0};
    constexpr std::size_t members = 40;
    struct ferment_forecast* made = nullptr;
    REQUIRE(ferment_forecast_create(batch.get(), hours.size(), hours.data(), 0, nullptr, members, 3, &made) == FERMENT_OK);
    const Owned<struct ferment_forecast> forecast_made(made);
    const auto shares = usual(ferment_assumptions_init);
    Fermentation f = cpp_fermentation();
    const Forecast e = forecast(f, hours, {}, members, 3);
    const std::array<const Band*, 6> bands{&e.gravity, &e.abv, &e.temperature, &e.conversion, &e.co2_lost, &e.co2_rate};
    const std::array<double, 6> scales{1.0, 100.0, 1.0, 100.0, 1.0, 1.0};
    for (std::size_t q = 0; q < bands.size(); ++q) {
        CAPTURE(q);
        std::vector<double> values(hours.size() * FERMENT_QUANTILES);
        REQUIRE(ferment_forecast_quantiles(made, static_cast<int>(q), values.size(), values.data()) == FERMENT_OK);
        for (std::size_t i = 0; i < hours.size(); ++i) {
            for (std::size_t k = 0; k < FERMENT_QUANTILES; ++k) {
                // Shares went through percent: their last digit, and steps of the solver that hang on it.
                constexpr double tolerance = 1e-6;
                CHECK(std::abs(values[i * FERMENT_QUANTILES + k] - scales[q] * (*bands[q])[i][k]) <=
                      tolerance * (1.0 + scales[q] * std::abs((*bands[q])[i][k])));
            }
        }
    }
    CHECK(shares.conversion.value > 80.0);
    std::array<double, FERMENT_QUANTILES> done{};
    CHECK(ferment_forecast_done_h(made, done.data()) == FERMENT_OK);
    CHECK(std::abs(done[2] - e.done()[2]) <= 1e-3);
    double share = untouched;
    CHECK(ferment_forecast_done_by(made, 200.0, &share) == FERMENT_OK);
    CHECK(share == 100.0 * e.done_by(200.0));
    CHECK(ferment_forecast_done_by(made, no_number, &share) == FERMENT_OK);
    CHECK(std::isnan(share));
    std::vector<double> values(hours.size() * FERMENT_QUANTILES, untouched);
    CHECK(ferment_forecast_quantiles(made, 6, values.size(), values.data()) == FERMENT_BAD_INPUT);
    CHECK(ferment_forecast_quantiles(made, 0, values.size() - 1, values.data()) == FERMENT_BAD_INPUT);
    CHECK(ferment_forecast_quantiles(nullptr, 0, values.size(), values.data()) == FERMENT_BAD_INPUT);
    CHECK(values.front() == untouched);
    struct ferment_forecast* none = nullptr;
    CHECK(ferment_forecast_create(batch.get(), hours.size(), hours.data(), 0, nullptr, 1, 3, &none) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_forecast_create(batch.get(), 0, hours.data(), 0, nullptr, members, 3, &none) == FERMENT_BAD_INPUT);
    CHECK(ferment_forecast_create(batch.get(), 1, nullptr, 0, nullptr, members, 3, &none) == FERMENT_BAD_INPUT);
    CHECK(ferment_forecast_create(nullptr, 1, hours.data(), 0, nullptr, members, 3, &none) == FERMENT_BAD_INPUT);
    CHECK(ferment_forecast_create(batch.get(), 1, hours.data(), 1, nullptr, members, 3, &none) == FERMENT_BAD_INPUT);
    CHECK(none == nullptr);

    struct ferment_conditions c = c_conditions();
    const std::array<double, 2> log_h{0.0, 24.0}, log_c{18.0, 24.0};
    c.logged_n = 2;
    c.logged_hours = log_h.data();
    const auto bill = c_bill();
    const struct ferment_assumptions assumed = usual(ferment_assumptions_init);
    struct ferment_fermentation* logged = nullptr;
    CHECK(ferment_fermentation_create(bill.get(), water_kg, &assumed, &c, &logged) == FERMENT_BAD_INPUT);
    c.logged_temperatures_c = log_c.data();
    CHECK(ferment_fermentation_create(bill.get(), water_kg, &assumed, &c, &logged) == FERMENT_OK);
    ferment_fermentation_destroy(std::exchange(logged, nullptr));
    c.yeast_kg = 0.0;
    CHECK(ferment_fermentation_create(bill.get(), water_kg, &assumed, &c, &logged) == FERMENT_OUT_OF_RANGE);
    CHECK(logged == nullptr);
}

TEST_CASE("C: what readings say is what C++ says") {
    const auto batch = c_fermentation();
    struct ferment_reading day_5 = usual(ferment_reading_init);
    day_5.time_h = 120.0;
    day_5.gravity = {1.0129, 0.0005};
    day_5.temperature_c = {24.0, 0.5};
    constexpr std::size_t members = 100;
    struct ferment_check* made = nullptr;
    REQUIRE(ferment_check_create(batch.get(), 1, &day_5, members, 1, &made) == FERMENT_OK);
    const Owned<struct ferment_check> owned(made);
    Reading reading;
    reading.time_h = 120.0;
    reading.gravity = measured{1.0129, 0.0005};
    reading.temperature = measured{24.0, 0.5};
    const Check e = check(cpp_fermentation(), {reading}, members, 1);
    auto s = sized<struct ferment_check_summary>();
    REQUIRE(ferment_check_get(made, &s) == FERMENT_OK);
    CHECK(s.stands == static_cast<std::int64_t>(e.stands));
    CHECK(s.because == static_cast<std::int64_t>(e.because));
    CHECK(s.time_h == 120.0);
    CHECK(s.look_again_h == e.look_again_h);
    const auto near = [](const double* const c, const Spread& cpp, const double scale, const double tolerance) {
        for (std::size_t k = 0; k < cpp.size(); ++k) {
            CHECK((equal(c[k], scale * cpp[k]) || std::abs(c[k] - scale * cpp[k]) <= tolerance));
        }
    };
    near(s.conversion, e.conversion, 100.0, 1e-3);
    near(s.abv, e.abv, 100.0, 1e-4);
    near(s.gravity, e.gravity, 1.0, 1e-6);
    near(s.end_abv, e.end_abv, 100.0, 1e-4);
    near(s.end_gravity, e.end_gravity, 1.0, 1e-6);
    near(s.days_to_finish, e.days_to_finish, 1.0, 1e-3);
    near(s.expected_gravity, e.expected[0].range, 1.0, 1e-6);
    near(s.expected_temperature_c, e.expected[1].range, 1.0, 1e-4);
    CHECK(std::abs(s.gravity_z - e.expected[0].z) <= 1e-4);
    CHECK(std::abs(s.temperature_z - e.expected[1].z) <= 1e-4);
    CHECK(std::isnan(s.co2_lost_z));
    CHECK(std::isnan(s.expected_co2_lost_kg[2]));
    double sum = 0.0;
    for (int c = 0; c < static_cast<int>(cause_count); ++c) {
        double p = untouched;
        REQUIRE(ferment_check_cause_probability(made, c, &p) == FERMENT_OK);
        CHECK(std::abs(p - e.cause_probability[static_cast<std::size_t>(c)]) <= 1e-4);
        sum += p;
        const char* text = nullptr;
        REQUIRE(ferment_cause_text(c, &text) == FERMENT_OK);
        CHECK(text == std::string(to_string(static_cast<cause>(c))));
    }
    CHECK(std::abs(sum - 1.0) <= 1e-12);
    for (int c = 0; c < static_cast<int>(standing_count); ++c) {
        double p = untouched;
        REQUIRE(ferment_check_standing_probability(made, c, &p) == FERMENT_OK);
        CHECK(std::abs(p - e.probability[static_cast<std::size_t>(c)]) <= 1e-12);
        const char* text = nullptr;
        REQUIRE(ferment_standing_text(c, &text) == FERMENT_OK);
        CHECK(text == std::string(to_string(static_cast<standing>(c))));
    }
    const char* text = nullptr;
    CHECK(ferment_check_says(made, &text) == FERMENT_OK);
    CHECK(text == e.says);
    CHECK(ferment_check_warning(made, &text) == FERMENT_OK);
    CHECK(text == e.warning);
    text = nullptr;
    double p = untouched;
    CHECK(ferment_cause_text(8, &text) == FERMENT_BAD_INPUT);
    CHECK(ferment_standing_text(-1, &text) == FERMENT_BAD_INPUT);
    CHECK(ferment_check_cause_probability(made, 8, &p) == FERMENT_BAD_INPUT);
    CHECK(ferment_check_standing_probability(nullptr, 0, &p) == FERMENT_BAD_INPUT);
    CHECK(text == nullptr);
    CHECK(p == untouched);

    struct ferment_check* none = nullptr;
    CHECK(ferment_check_create(batch.get(), 0, nullptr, members, 1, &none) == FERMENT_BAD_INPUT);
    day_5.iodine = 2;
    CHECK(ferment_check_create(batch.get(), 1, &day_5, members, 1, &none) == FERMENT_BAD_INPUT);
    day_5.iodine = -1;
    day_5.gravity.value = day_5.temperature_c.value = no_number;
    CHECK(ferment_check_create(batch.get(), 1, &day_5, members, 1, &none) == FERMENT_BAD_INPUT);  // measured nothing
    CHECK(none == nullptr);
}

TEST_CASE("C: charges and stripping are those of C++") {
    struct ferment_still still = usual(ferment_still_init);
    CHECK(still.head_space == 100.0 * usual_head_space_share);
    CHECK(still.pressure_kpa == FERMENT_SEA_LEVEL_KPA);
    still.boiler_l = 30.0;
    StillSetup setup;
    setup.boiler_l = 30.0;
    auto c = sized<struct ferment_charge_plan>();
    REQUIRE(ferment_charges(&still, 70.0, 8.0, 2.0, 1.0, 30.0, &c) == FERMENT_OK);
    const ChargePlan e = plan_charges(still_liquid(70.0 * litre, 8.0 * percent_vol, 2.0 * degree_plato), {1.0, 0.30}, setup);
    CHECK(c.count == e.count);
    CHECK(same(c.charge, e.charge));
    CHECK(same(c.wash, e.wash));
    CHECK(same(c.reserve, e.reserve));
    CHECK(c.usable_l == e.usable_l);
    CHECK(c.head_space == 100.0 * e.head_space_share);
    CHECK(ferment_charges(&still, 70.0, 8.0, 2.0, 40.0, 30.0, &c) == FERMENT_OUT_OF_RANGE);
    CHECK(ferment_charges(&still, no_number, 8.0, 2.0, 0.0, 0.0, &c) == FERMENT_BAD_INPUT);

    struct ferment_run run = usual(ferment_run_init);
    run.points = 51;
    auto s = sized<struct ferment_stripping>();
    REQUIRE(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_OK);
    const StillLiquid charge = still_liquid(20.0 * litre, 8.0 * percent_vol, 2.0 * degree_plato);
    const Stripping r = strip(charge, setup, StripStop::distillate_abv(5.0 * percent_vol));
    CHECK(same(s.charge, r.charge));
    CHECK(same(s.low_wines, r.low_wines));
    CHECK(same(s.pot, r.pot));
    CHECK(s.ethanol_left_share == 100.0 * r.ethanol_left_share);
    CHECK(s.boiling_start_c == r.boiling_start_c);
    CHECK(s.boiling_end_c == r.boiling_end_c);
    CHECK(std::isnan(s.energy_kwh));
    CHECK(std::isnan(s.low_wines_l_per_h));
    still.heating_kw = setup.heating_kw = 3.0;
    REQUIRE(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_OK);
    const StillDuty d = stripping_duty(r, setup, RunConditions{});
    CHECK(s.heat_up_kwh == d.heat_up_kwh);
    CHECK(s.boil_kwh == d.boil_kwh);
    CHECK(s.loss_kwh == d.loss_kwh);
    CHECK(s.energy_kwh == d.energy_kwh);
    CHECK(s.heat_up_h == d.heat_up_h);
    CHECK(s.boil_h == d.boil_h);
    CHECK(s.total_h == d.total_h);
    CHECK(s.condenser_kwh == d.condenser_kwh);
    CHECK(s.condenser_mean_kw == d.condenser_mean_kw);
    CHECK(s.condenser_peak_kw == d.condenser_peak_kw);
    CHECK(s.water_l == d.water_l);
    CHECK(s.water_l_per_h == d.water_l_per_h);
    CHECK(s.water_peak_l_per_h == d.water_peak_l_per_h);
    CHECK(s.low_wines_l_per_h == d.low_wines_l_per_h);
    const std::array<std::pair<double, StripStop>, 4> ends{{{2.0, StripStop::pot_abv(2.0 * percent_vol)},
                                                            {4.0, StripStop::collected(4.0 * litre)},
                                                            {98.0, StripStop::head(degrees(98.0))},
                                                            {90.0, StripStop::recovered(0.9)}}};
    for (std::size_t k = 0; k < ends.size(); ++k) {
        CAPTURE(k);
        run.end_by = static_cast<std::int64_t>(k) + 1;
        run.end = ends[k].first;
        REQUIRE(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_OK);
        CHECK(std::abs(s.low_wines.mass_kg - strip(charge, setup, ends[k].second).low_wines.mass_kg) <= 1e-9);
    }
    s.boiling_end_c = untouched;
    run.end_by = FERMENT_END_HEAD_C;
    run.end = 104.0;
    CHECK(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_NO_SOLUTION);
    CHECK(ferment_last_error() == message_of([&] { strip(charge, setup, StripStop::head(degrees(104.0))); }));
    run.end = 60.0;
    CHECK(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_OUT_OF_RANGE);
    run.end_by = 5;
    CHECK(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_BAD_INPUT);
    run.end_by = FERMENT_END_HEAD_C;
    run.points = -1;
    CHECK(ferment_strip(&still, 20.0, 8.0, 2.0, &run, &s) == FERMENT_OUT_OF_RANGE);
    CHECK(s.boiling_end_c == untouched);
}

TEST_CASE("C: a plan is that of C++") {
    const auto bill = c_bill();
    const struct ferment_assumptions assumed = usual(ferment_assumptions_init);
    struct ferment_still still = usual(ferment_still_init);
    still.boiler_l = 30.0;
    still.heating_kw = 3.0;
    struct ferment_plan_request request = usual(ferment_plan_request_init);
    request.water_kg = water_kg;
    request.stripping_still = &still;
    PlanRequest asked;
    asked.bill = cpp_bill();
    asked.water_kg = water_kg;
    asked.stripping_still.boiler_l = 30.0;
    asked.stripping_still.heating_kw = 3.0;
    const auto compare = [&] {
        struct ferment_plan* made = nullptr;
        REQUIRE(ferment_plan_create(bill.get(), &assumed, &request, &made) == FERMENT_OK);
        const Owned<struct ferment_plan> owned(made);
        const Plan e = plan(asked);
        auto s = sized<struct ferment_plan_summary>();
        REQUIRE(ferment_plan_get(made, &s) == FERMENT_OK);
        // What went in went through percent: round-off, enlarged by the solvers of the still.
        const auto near = [](const double c, const double cpp) { return std::abs(c - cpp) <= 1e-9 * (1.0 + std::abs(cpp)); };
        const auto near_measured = [&](const struct ferment_measured& c, const Uncertain& cpp, const double scale = 1.0) {
            return near(c.value, scale * cpp.value()) && near(c.standard_uncertainty, scale * cpp.standard_uncertainty());
        };
        const auto near_liquid = [&](const struct ferment_liquid& c, const StillLiquid& cpp) {
            return near(c.mass_kg, cpp.mass_kg) && near(c.abw, 100.0 * cpp.abw) && near(c.extract, 100.0 * cpp.extract) && near(c.volume_l, cpp.volume_l()) &&
                   near(c.abv, 100.0 * cpp.abv()) && near(c.pure_alcohol_l, cpp.pure_alcohol_l());
        };
        CHECK(near_liquid(s.wash, e.strained));
        CHECK(near_liquid(s.in_grain, e.in_grain));
        CHECK(near_liquid(s.low_wines, e.low_wines));
        CHECK(near_liquid(s.left, e.left));
        CHECK(near_measured(s.wash_gravity, e.end_point.gravity));
        CHECK(near_measured(s.wash_abv, e.end_point.abv, 100.0));
        CHECK(near_measured(s.wash_pure_alcohol_l, e.predicted.wash_pure_alcohol_l));
        CHECK(near_measured(s.low_wines_l, e.predicted.low_wines_l));
        CHECK(near_measured(s.low_wines_pure_alcohol_l, e.predicted.low_wines_pure_alcohol_l));
        CHECK(near_measured(s.hearts_l, e.predicted.hearts_l));
        CHECK(near_measured(s.hearts_pure_alcohol_l, e.predicted.hearts_pure_alcohol_l));
        CHECK(near_measured(s.bottled_l, e.predicted.bottled_l));
        CHECK(near_measured(s.bottles_predicted, e.predicted.bottles));
        CHECK(s.stripping_charges == e.stripping_charges.count);
        CHECK(s.spirit_charges == e.spirit_charges.count);
        CHECK(s.plates == e.plates);
        CHECK(s.bottles == e.bottling.full);
        CHECK(near(s.spirit_water_kg, e.spirit_water_kg));
        CHECK(near(s.bottling_water_kg, e.dilution.water.value()));
        CHECK(near(s.fill_l, value_in(e.bottling.fill_volume, litre)));
        CHECK(near(s.rest_l, value_in(e.bottling.rest_at_20c, litre)));
        CHECK(near(s.stripping_kwh + s.spirit_kwh, s.energy_kwh));
        CHECK(near(s.stripping_kwh, e.stripping_bill.energy_kwh));
        CHECK(near(s.energy_kwh, e.totals.energy_kwh));
        CHECK(near(s.condenser_kwh, e.totals.condenser_kwh));
        CHECK(near(s.water_l, e.totals.water_l));
        CHECK(near(s.running_h, e.totals.running_h));
        CHECK(near(s.turnaround_h, e.totals.turnaround_h));
        CHECK(near(s.total_h, e.totals.total_h));
        CHECK(near(s.energy_kwh_per_pure_alcohol_l, e.totals.energy_kwh_per_pure_alcohol_l));
        CHECK(s.balance_error <= 1e-10);
        for (int cut = FERMENT_FORE_SHOTS; cut <= FERMENT_TAILS; ++cut) {
            CAPTURE(cut);
            auto f = sized<struct ferment_fraction>();
            REQUIRE(ferment_plan_fraction(made, cut, &f) == FERMENT_OK);
            const PlanFraction& x = e.fraction(static_cast<cut_label>(cut));
            CHECK(near_liquid(f.content, x.content));
            CHECK(near(f.from_l, x.from_l));
            CHECK(near(f.to_l, x.to_l));
            CHECK(near(f.from_abv, 100.0 * x.from_abv));
            CHECK(near(f.to_abv, 100.0 * x.to_abv));
            CHECK(near(f.alcohol_share, 100.0 * x.alcohol_share));
            CHECK(ferment_plan_fraction(made, FERMENT_TAILS + 1, &f) == FERMENT_BAD_INPUT);
        }
        const char* sheet = nullptr;
        REQUIRE(ferment_plan_sheet(made, &sheet) == FERMENT_OK);
        CHECK(sheet == e.sheet());
    };
    SECTION("with the usual values") {
        compare();
    }
    SECTION("with every field set") {
        struct ferment_still second = usual(ferment_still_init);
        second.boiler_l = 12.0;
        second.heating_kw = 2.0;
        second.heat_loss = 5.0;
        second.heat_loss_w_per_k = 1.0;
        second.still_heat_kj_per_k = 4.0;
        second.pressure_kpa = 98.0;
        struct ferment_run run = usual(ferment_run_init);
        run.end_by = FERMENT_END_RECOVERED;
        run.end = 96.0;
        run.ambient_c = 12.0;
        run.start_c = 18.0;
        run.distillate_c = 22.0;
        run.water_in_c = 10.0;
        run.water_out_c = 55.0;
        run.points = 61;
        request.spirit_still = &second;
        request.run = &run;
        request.dissolved_by_products = {70.0, 10.0};
        request.absorption = {0.8, 0.05};
        request.mash_head_space = 25.0;
        request.plates = 2;
        request.hold_up_kg = 0.2;
        request.equilibration_h = 0.5;
        request.take_off = 1.5;
        request.end_distillate_abv = 15.0;
        request.end_pot_abv = 1.0;
        request.end_collected_l = 50.0;
        request.end_recovered = 99.0;
        request.strongest_charge_abv = 28.0;
        request.dilution_water_c = 9.0;
        request.spirit_start_c = 14.0;
        request.fore_shots_by = FERMENT_CUT_COLLECTED_L;
        request.fore_shots_end = 0.05;
        request.heads_by = FERMENT_CUT_ALCOHOL_SHARE;
        request.heads_end = 8.0;
        request.hearts_by = FERMENT_CUT_DISTILLATE_ABV;
        request.hearts_end = 65.0;
        request.recycled_l = 1.0;
        request.recycled_abv = 40.0;
        request.recycled_into = FERMENT_INTO_WASH;
        request.target_abv = 43.0;
        request.bottle_l = 0.5;
        request.bottling_water_c = 9.0;
        request.fill_c = 13.0;
        request.turnaround_h = 0.5;
        StillSetup spirit;
        spirit.boiler_l = 12.0;
        spirit.heating_kw = 2.0;
        spirit.heat_loss_share = 0.05;
        spirit.heat_loss_w_per_k = 1.0;
        spirit.still_heat_kj_per_k = 4.0;
        spirit.pressure_kpa = 98.0;
        asked.spirit.still = spirit;
        asked.stripping_stop = StripStop::recovered(0.96);
        asked.conditions = {18.0, 12.0, 22.0, 10.0, 55.0};
        asked.curve_points = 61;
        asked.dissolved_by_products = {0.7, 0.1};
        asked.handling = {{0.8, 0.05}, 0.25};
        asked.spirit.plates = 2;
        asked.spirit.hold_up_kg = 0.2;
        asked.spirit.equilibration_h = 0.5;
        asked.spirit.take_off = TakeOff::at_reflux(1.5);
        asked.spirit.stop = ColumnStop{0.15, 0.01, 50.0, 0.99};
        asked.spirit.strongest_charge_abv = 0.28;
        asked.spirit.dilution_water_c = 9.0;
        asked.spirit.start_c = 14.0;
        asked.cuts.fore_shots_end = CutEnd::collected(0.05 * litre);
        asked.cuts.heads_end = CutEnd::alcohol_share(0.08);
        asked.cuts.hearts_end = CutEnd::distillate(65.0 * percent_vol);
        asked.recycled = {1.0, 0.40, recycle_into::wash};
        asked.bottling = {0.43, 0.5, 9.0, 13.0};
        asked.turnaround_h = 0.5;
        compare();
    }
    SECTION("errors name the stage") {
        struct ferment_plan* none = nullptr;
        request.hearts_end = 99.0;
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, &none) != FERMENT_OK);
        asked.cuts.hearts_end = CutEnd::distillate(99.0 * percent_vol);
        CHECK(ferment_last_error() == message_of([&] { plan(asked); }));
        request.hearts_end = 90.0;
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, &none) == FERMENT_NO_SOLUTION);
        request.hearts_end = 60.0;
        request.plates = -1;
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, &none) == FERMENT_OUT_OF_RANGE);
        request.plates = 0;
        request.water_kg = no_number;
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, &none) == FERMENT_BAD_INPUT);
        CHECK(std::string(ferment_last_error()).rfind("mash: ", 0) == 0);
        request.water_kg = water_kg;
        request.stripping_still = nullptr;
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, &none) == FERMENT_BAD_INPUT);
        CHECK(std::string(ferment_last_error()) == "stripping_still is NULL");
        CHECK(ferment_plan_create(bill.get(), &assumed, nullptr, &none) == FERMENT_BAD_INPUT);
        CHECK(ferment_plan_create(bill.get(), &assumed, &request, nullptr) == FERMENT_BAD_INPUT);
        CHECK(none == nullptr);
        auto s = sized<struct ferment_plan_summary>();
        CHECK(ferment_plan_get(nullptr, &s) == FERMENT_BAD_INPUT);
        ferment_plan_destroy(nullptr);
    }
}

TEST_CASE("C: every kind of exception becomes a status") {
    using ferment_c::guarded;
    CHECK(guarded([] {}) == FERMENT_OK);
    CHECK(guarded([] { throw RangeError("far"); }) == FERMENT_OUT_OF_RANGE);
    CHECK(std::string(ferment_c::last_message) == "far");
    CHECK(guarded([] { throw InputError("odd"); }) == FERMENT_BAD_INPUT);
    CHECK(guarded([] { throw SolveError("none"); }) == FERMENT_NO_SOLUTION);
    CHECK(guarded([] { throw std::bad_alloc(); }) == FERMENT_OUT_OF_MEMORY);
    CHECK(guarded([] { throw std::length_error("long"); }) == FERMENT_OUT_OF_MEMORY);
    CHECK(std::string(ferment_c::last_message) == "out of memory");
    CHECK(guarded([] { throw std::logic_error("a defect"); }) == FERMENT_INTERNAL);
    CHECK(std::string(ferment_c::last_message) == "a defect");
    CHECK(guarded([] { throw 1; }) == FERMENT_INTERNAL);
    CHECK(guarded([] { throw InputError(std::string(10000, 'x')); }) == FERMENT_BAD_INPUT);
    CHECK(std::strlen(ferment_c::last_message) == ferment_c::message_size - 1);

    const double x = 20.0;
    double r = untouched;
    CHECK(ferment_water_density_array(std::numeric_limits<std::size_t>::max(), &x, FERMENT_STOP, &r, nullptr) == FERMENT_OUT_OF_MEMORY);
    CHECK(std::string(ferment_last_error()) == "out of memory");
    CHECK(r == untouched);
    CHECK(ferment_c::value_or_error([](double) { return 1.0; }, 0.0) == 1.0);
    CHECK_THROWS_AS(ferment_c::value_or_error([](double) { return no_number; }, 0.0), SolveError);
}

TEST_CASE("C: results may overlap inputs") {
    std::array<double, 5> x{10.0, 20.0, 30.0, 40.0, 50.0};
    const std::array<double, 5> before = x;
    CHECK(ferment_abw_from_abv_array(4, x.data(), FERMENT_STOP, x.data() + 1, nullptr) == FERMENT_OK);
    for (std::size_t i = 0; i < 4; ++i) CHECK(x[i + 1] == value_in(abw_from_abv(before[i] * percent_vol), percent_mass));
}

TEST_CASE("C: programs of other ages are understood") {
    // A newer program, whose struct has one more field.
    struct Newer {
        struct ferment_hydrometer known;
        double later;
    };
    Newer newer{};
    REQUIRE(ferment_hydrometer_init(&newer.known, sizeof newer) == FERMENT_OK);
    CHECK(newer.known.size == sizeof newer);
    CHECK(newer.later == 0.0);
    auto found = sized<struct ferment_hydrometer_reading>();
    CHECK(ferment_hydrometer_correct(&newer.known, 1.012, 24.0, FERMENT_WORT, 0.0, &found) == FERMENT_OK);
    newer.later = 1.0;
    CHECK(ferment_hydrometer_correct(&newer.known, 1.012, 24.0, FERMENT_WORT, 0.0, &found) == FERMENT_BAD_INPUT);
    struct NewerResult {
        struct ferment_hydrometer_reading known;
        double later;
    };
    NewerResult result{};
    result.known.size = sizeof result;
    result.later = untouched;
    newer.later = 0.0;
    CHECK(ferment_hydrometer_correct(&newer.known, 1.012, 24.0, FERMENT_WORT, 0.0, &result.known) == FERMENT_OK);
    CHECK(result.known.size == sizeof result);
    CHECK(result.known.sg == found.sg);
    CHECK(result.later == untouched);

    // Readings of a newer program lie further apart.
    struct NewerReading {
        struct ferment_reading known;
        double later;
    };
    std::array<NewerReading, 2> readings{};
    for (std::size_t i = 0; i < readings.size(); ++i) {
        REQUIRE(ferment_reading_init(&readings[i].known, sizeof readings[i]) == FERMENT_OK);
        readings[i].known.time_h = 48.0 * static_cast<double>(i + 1);
        readings[i].known.gravity = {1.03 - 0.01 * static_cast<double>(i), 0.001};
    }
    const auto batch = c_fermentation();
    struct ferment_check* made = nullptr;
    REQUIRE(ferment_check_create(batch.get(), 2, &readings[0].known, 20, 1, &made) == FERMENT_OK);
    auto s = sized<struct ferment_check_summary>();
    CHECK(ferment_check_get(made, &s) == FERMENT_OK);
    CHECK(s.time_h == 96.0);
    ferment_check_destroy(std::exchange(made, nullptr));
    readings[1].known.size = sizeof(struct ferment_reading);
    CHECK(ferment_check_create(batch.get(), 2, &readings[0].known, 20, 1, &made) == FERMENT_BAD_INPUT);

    // Sizes that cannot be.
    struct ferment_still still {};
    still.boiler_l = untouched;
    CHECK(ferment_still_init(&still, 8) == FERMENT_BAD_INPUT);
    CHECK(ferment_still_init(&still, std::numeric_limits<std::size_t>::max()) == FERMENT_BAD_INPUT);
    CHECK(ferment_still_init(nullptr, sizeof still) == FERMENT_BAD_INPUT);
    CHECK(still.boiler_l == untouched);
    struct ferment_charge_plan c {};  // size was not set
    CHECK(ferment_still_init(&still, sizeof still) == FERMENT_OK);
    still.boiler_l = 30.0;
    CHECK(ferment_charges(&still, 70.0, 8.0, 2.0, 0.0, 0.0, &c) == FERMENT_BAD_INPUT);
    still.size = 0;
    c.size = sizeof c;
    CHECK(ferment_charges(&still, 70.0, 8.0, 2.0, 0.0, 0.0, &c) == FERMENT_BAD_INPUT);
}

TEST_CASE("C: each thread has its own message") {
    double r = untouched;
    REQUIRE(ferment_water_density(200.0, &r) == FERMENT_OUT_OF_RANGE);
    const std::string mine = ferment_last_error();
    std::atomic<int> wrong{0};
    std::vector<std::thread> threads;
    for (int k = 0; k < 4; ++k) {
        threads.emplace_back([k, &wrong] {
            double x = untouched;
            if (std::string(ferment_last_error()) != "") ++wrong;
            for (int i = 0; i < 500; ++i) {
                const double t = 200.0 + k;
                if (ferment_water_density(t, &x) != FERMENT_OUT_OF_RANGE) ++wrong;
                if (std::string(ferment_last_error()).find(std::to_string(200 + k)) == std::string::npos) ++wrong;
                if (ferment_wash_density(6.0, 2.0, 20.0 + k, &x) != FERMENT_OK) ++wrong;
                if (x != wash_density(6.0 * percent_mass, 2.0 * degree_plato, degrees(20.0 + k)).value()) ++wrong;
            }
        });
    }
    for (std::thread& t : threads) t.join();
    CHECK(wrong == 0);
    CHECK(ferment_last_error() == mine);
}

TEST_CASE("C: versions, cautions, and a C99 program") {
    CHECK(ferment_interface_version() == FERMENT_INTERFACE_VERSION);
    CHECK(std::string(ferment_version()) == FERMENT_PROJECT_VERSION);
    CHECK(std::string(ferment_cautions()) == still_cautions);
    CHECK(ferment_test_calls() == 0);
}

TEST_CASE("C: the interface is the recorded one") {
    const std::string record = std::string(FERMENT_C_TEST_DIR) + "/interface_" + std::to_string(FERMENT_INTERFACE_VERSION) + ".txt";
    std::set<std::string> recorded;
    std::ifstream file(record);
    REQUIRE(file);
    for (std::string line; std::getline(file, line);) {
        if (!line.empty() && line.front() != '#') recorded.insert(line);
    }

    std::set<std::string> found;
    const struct layout_line* lines = nullptr;
    const std::size_t count = ferment_test_layout(&lines);
    std::size_t end = 0;
    std::size_t size = 0;
    for (std::size_t i = 0; i < count; ++i) {
        std::ostringstream line;
        const std::string name = lines[i].name;
        if (name.find('.') == std::string::npos) {
            CHECK(end == size);  // the list of fields of the struct before is complete, and nothing is padded
            size = lines[i].size;
            end = 0;
            line << "struct " << name << ' ' << size;
        } else {
            CAPTURE(name);
            CHECK(lines[i].offset == end);
            end += lines[i].size;
            line << "field " << name << ' ' << lines[i].offset << ' ' << lines[i].size;
        }
        found.insert(line.str());
    }
    CHECK(end == size);

    const std::string command = std::string("nm -D --defined-only ") + FERMENT_C_LIBRARY_FILE;
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    REQUIRE(pipe);
    std::array<char, 512> text{};
    while (std::fgets(text.data(), static_cast<int>(text.size()), pipe.get()) != nullptr) {
        std::istringstream line(text.data());
        std::string address, type, name;
        line >> address >> type >> name;
        if (type == "A") continue;  // the name of the version itself
        name.erase(std::min(name.find('@'), name.size()));
        CAPTURE(name);
        CHECK(name.rfind("ferment_", 0) == 0);
        CHECK(type == "T");
        found.insert("function " + name);
    }

    // What is recorded must stay for as long as the number in the file's name does; what is new must be recorded.
    std::string lost, unrecorded;
    for (const std::string& line : recorded) {
        if (found.count(line) == 0) lost += line + "\n";
    }
    for (const std::string& line : found) {
        if (recorded.count(line) == 0) unrecorded += line + "\n";
    }
    CHECK(lost == "");
    CHECK(unrecorded == "");
}
