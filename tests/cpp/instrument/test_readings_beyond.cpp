// Readings and strengths at the far ends of an instrument.

#include <cmath>
#include <ferment/instrument.hpp>

#include "catch.hpp"

using namespace ferment;

TEST_CASE("a refractometer finds the extract of a wash with hardly any alcohol", "[instrument][refractometer]") {
    const Refractometer prism;
    const auto extract_at = [&](const double strength) {
        return prism.correct(7.6, 25.0 * degree_celsius, SampleWash{SampleWash::known::strength, strength}).real_extract.value();
    };
    const double none = extract_at(0.0);
    for (const double strength : {1e-300, 6.7589107673615774e-162, 1e-20, 1e-16, 1e-12}) {
        CAPTURE(strength);
        CHECK(std::abs(extract_at(strength) - none) <= 1e-11);
    }
}

TEST_CASE("a stem whose scale ends before the liquid does says so", "[instrument][hydrometer]") {
    const Hydrometer plato(hydrometer_scale::plato);
    CHECK_THROWS_AS(plato.reads(67.0 * percent_mass, 3.0 * degree_plato, 5.0 * degree_celsius), RangeError);
    CHECK(std::isnan(plato.reads(abw<>::from_value(std::nan("")), 3.0 * degree_plato, 5.0 * degree_celsius)));
    CHECK(std::isfinite(plato.reads(5.0 * percent_mass, 3.0 * degree_plato, 5.0 * degree_celsius)));
}
