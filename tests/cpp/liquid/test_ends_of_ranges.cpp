// The last digit of a range: what a door lets in has a result, and what it refuses the kernel refuses, too.

#include <cmath>
#include <ferment/liquid.hpp>
#include <limits>
#include <string>

#include "catch.hpp"

using namespace ferment;

namespace {

const double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("the gravity of the strongest wort has an extract, whatever air it is weighed in", "[liquid][gravity]") {
    for (const double air : {0.0, 1.2, 1.8396513279420788, 2.0}) {
        CAPTURE(air);
        for (const double w : {0.0, 0.69999999999999984, 0.7}) {
            CAPTURE(w);
            const auto sg = gravity_from_extract<at_20_20>(extract<>::from_value(w), air);
            CHECK(std::abs(extract_from_gravity<at_20_20>(sg, air).value() - w) <= 1e-14);
        }
        const gravity_frame frame = frame_of<at_20_20>(air);
        CHECK(std::isnan(wort_gravity::extract(std::nextafter(wort_gravity::range(frame).upper, 2.0), frame)));
    }
}

TEST_CASE("air that is no air is refused", "[liquid][gravity]") {
    const extract<> w = 12.0 * degree_plato;
    for (const double air : {-0.1, 2.1, infinite}) {
        CAPTURE(air);
        CHECK_THROWS_AS(gravity_from_extract<at_20_20>(w, air), RangeError);
        CHECK_THROWS_AS(extract_from_gravity<at_20_20>(1.05 * sg_20_20, air), RangeError);
        CHECK_THROWS_AS(density_from_sg<at_20_20>(1.05 * sg_20_20, air), RangeError);
        CHECK_THROWS_AS(sg_from_density<at_20_20>(1050.0 * kilogram_per_cubic_metre, air), RangeError);
        CHECK_THROWS_AS(density_in_air(1050.0 * kilogram_per_cubic_metre, air), RangeError);
        CHECK_THROWS_AS(density_in_vacuum(1050.0 * kilogram_per_cubic_metre, air), RangeError);
    }
}

TEST_CASE("where a wash has no room left, door and kernel agree to the last digit", "[liquid][wash]") {
    const double x = 0.7;
    const double q = 3.3943885818238841e-16;
    CHECK(std::isnan(wash::abw_from_abv(q, x)) == false);
    CHECK(wash_abw(abv<>::from_value(q), extract<>::from_value(x)).value() == wash::abw_from_abv(q, x));
    CHECK_THROWS_AS(wash_abw(abv<>::from_value(1e-3), extract<>::from_value(x)), RangeError);

    const double rho = 1350.661337023804;
    const double t = 13.787490617482959;
    CHECK(wash_abw_from_density(density<>::from_value(rho), extract<>::from_value(0.69999999999999996), t * degree_celsius).value() ==
          wash::abw_from_density(rho, 0.69999999999999996, t));

    const double e = 0.99999999999999989;
    CHECK(wash_extract(density<>::from_value(806.2151206271152), abw<>::from_value(e), 2.1115780224386198e-45 * degree_celsius).value() ==
          wash::extract_from_density(806.2151206271152, e, 2.1115780224386198e-45));
}

TEST_CASE("an infinite mass is named", "[liquid][enthalpy]") {
    try {
        wash_heating(mass<>::from_value(infinite), 8.0 * percent_mass, 3.0 * degree_plato, 20.0 * degree_celsius, 90.0 * degree_celsius);
        CHECK(false);
    } catch (const InputError& e) {
        CHECK(std::string(e.what()).find("inf kg") != std::string::npos);
    }
}
