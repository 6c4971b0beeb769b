#include <cmath>
#include <ferment/core/uncertain.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/proofing/dilution.hpp>

#include "catch.hpp"

using namespace ferment;

namespace {

double corrected(const double reading, const double t) {
    return Hydrometer().correct(reading, t * degree_celsius, SampleWort{}).gravity.value();
}

double water_to_add(const double strength, const double litres, const double wanted) {
    const SpiritMass spirit = weigh(litres * litre, abw_from_abv(strength * percent_vol), 20.0 * degree_celsius);
    return dilute(spirit, abw_from_abv(wanted * percent_vol), 20.0 * degree_celsius).water.value();
}

}  // namespace

TEST_CASE("propagate: a hydrometer reading and a reduction carry the doubt of their inputs", "[uncertain][proofing][instrument]") {
    const Uncertain reading = Uncertain::input(1.045, 5e-4, "reading");
    const Uncertain temperature = Uncertain::input(27.0, 0.5, "temperature");
    const Uncertain gravity = propagate(corrected, reading, temperature);
    CHECK(gravity.value() == corrected(1.045, 27.0));
    REQUIRE(gravity.budget().size() == 2);
    CHECK(gravity.budget()[0].name == "reading");
    CHECK(std::abs(gravity.budget()[0].amount / 5e-4 - 1.0) <= 0.01);  // the correction changes slowly along the stem
    const double by_temperature = (corrected(1.045, 27.1) - corrected(1.045, 26.9)) / 0.2 * 0.5;
    CHECK(std::abs(gravity.budget()[1].amount - by_temperature) <= 1e-4 * std::abs(by_temperature));

    // Reduction: against differences of a hundredth of a standard uncertainty.
    const Uncertain strength = Uncertain::input(65.0, 0.2, "strength");
    const Uncertain volume_l = Uncertain::input(7.0, 0.05, "volume");
    const Uncertain water = propagate(water_to_add, strength, volume_l, 40.0);
    const double by_strength = (water_to_add(65.002, 7.0, 40.0) - water_to_add(64.998, 7.0, 40.0)) / 0.004 * 0.2;
    const double by_volume = water_to_add(65.0, 7.0, 40.0) / 7.0 * 0.05;
    CHECK(std::abs(water.standard_uncertainty() - std::hypot(by_strength, by_volume)) <= 1e-5 * water.standard_uncertainty());
    // What two results share is correlated: the same reduction twice differs by nothing.
    CHECK((propagate(water_to_add, strength, volume_l, 40.0) - water).standard_uncertainty() <= 1e-12);
}

TEST_CASE("propagate: at the end of a range the slope is that of the side which exists", "[uncertain]") {
    const auto half = [](const double x) {
        if (x < 0.0) throw RangeError("below");
        return 3.0 * x + x * x;
    };
    const Uncertain y = propagate(half, Uncertain::input(0.0, 0.1, "x"));
    CHECK(y.value() == 0.0);
    CHECK(std::abs(y.standard_uncertainty() - 0.3) <= 1e-6);
    CHECK_THROWS_AS(propagate(half, Uncertain::input(-1.0, 0.1, "x")), RangeError);
    CHECK(propagate(half, 2.0).standard_uncertainty() == 0.0);
    CHECK(std::isnan(propagate([](const double x) { return x; }, Uncertain::input(std::nan(""), 0.1, "x")).value()));
}
