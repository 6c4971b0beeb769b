#include <cmath>
#include <ferment/proofing/sweetening.hpp>
#include <string>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;
using ferment_test::Row;

namespace {

double shown(const double percent_by_volume, const double sugar) {
    return value_in(apparent_strength(percent_by_volume * percent_vol, sugar), percent_vol);
}

}  // namespace

TEST_CASE("sweetening: obscuration as in the gauging rule", "[proofing][published]") {
    double rule = 0.0;  // proof for 0.1 g of solids in 100 mL, that is for 1 g/L; 27 CFR 30.32
    for (const Row& row : read_table("ethanol_water/worked_examples_gauging.csv")) {
        if (row.text("id") == "obscuration") rule = row.number("result");
    }
    REQUIRE(rule == 0.4);
    // One round figure for all strengths, printed to 0.1: it agrees within its rounding where the rule is used, about 86 to 110 proof. Weaker spirit is
    // obscured more: 0.47 proof at 40 % vol.
    for (const double q : {43.0, 45.0, 48.0, 50.0, 54.0}) {
        CAPTURE(q, 2.0 * (q - shown(q, 1.0)));
        CHECK(std::abs(2.0 * (q - shown(q, 1.0)) - rule) <= 0.05);
    }
    CHECK(std::abs(2.0 * (40.0 - shown(40.0, 1.0)) - 0.47) <= 0.005);
}

TEST_CASE("sweetening: true and apparent strength are inverses", "[proofing]") {
    for (const double q : {5.0, 17.0, 25.0, 40.0, 60.0, 96.0}) {
        for (const double sugar : {0.0, 1.0, 20.0, 40.0}) {
            if (q == 5.0 && sugar > 15.0) continue;  // heavier than water
            CAPTURE(q, sugar, shown(q, sugar));
            const abv<> back = strength_of_sweetened(apparent_strength(q * percent_vol, sugar), sugar);
            CHECK(std::abs(value_in(back, percent_vol) - q) <= 1e-10);
            CHECK(shown(q, sugar) <= q + 1e-12);
        }
        CHECK(std::abs(shown(q, 0.0) - q) <= 1e-10);
    }
    CHECK(shown(40.0, 20.0) < shown(40.0, 10.0));
}

TEST_CASE("sweetening: a recipe closes and gives what was asked", "[proofing]") {
    const SpiritMass spirit = weigh(5.0 * litre, abw_from_abv(65.0 * percent_vol), 20.0 * degree_celsius);
    for (const double q : {15.0, 25.0, 40.0}) {
        for (const double sugar : {0.0, 30.0, 100.0, 300.0}) {
            CAPTURE(q, sugar);
            const Sweetening s = sweeten(spirit, q * percent_vol, sugar);
            CHECK(std::abs((spirit.total + s.sugar + s.water).value() - s.result.total.value()) <= 1e-12 * s.result.total.value());
            CHECK(s.result.ethanol.value() == spirit.ethanol.value());
            const double e = s.result.ethanol.value() / s.result.total.value();
            const double x = s.result.sugar.value() / s.result.total.value();
            CHECK(std::abs(wash::abv(e, x) - q / 100.0) <= 1e-12);
            CHECK(std::abs(s.sugar.value() / s.volume_20c.value() - sugar) <= 1e-9);
            CHECK(std::isnan(s.apparent.value()) == (s.result.total.value() / s.volume_20c.value() > volume_at_20c::density(0.0)));
        }
    }
}

TEST_CASE("sweetening: what cannot be is refused by name", "[proofing][errors]") {
    const SpiritMass weak = weigh(5.0 * litre, abw_from_abv(41.0 * percent_vol), 20.0 * degree_celsius);
    CHECK_THROWS_AS(sweeten(weak, 40.0 * percent_vol, 300.0), RangeError);
    CHECK_THROWS_AS(sweeten(weak, 0.0 * percent_vol, 30.0), RangeError);
    CHECK_THROWS_AS(apparent_strength(40.0 * percent_vol, -1.0), RangeError);
    CHECK_THROWS_AS(apparent_strength(40.0 * percent_vol, 501.0), RangeError);
    CHECK_THROWS_AS(apparent_strength(40.0 * percent_vol, std::nan("")), InputError);
    CHECK_THROWS_AS(apparent_strength(110.0 * percent_vol, 1.0), RangeError);
    CHECK_THROWS_AS(apparent_strength(20.0 * percent_vol, 200.0), RangeError);
    CHECK_THROWS_AS(strength_of_sweetened(100.0 * percent_vol, 300.0), RangeError);
    try {
        sweeten(weak, 40.0 * percent_vol, 300.0);
        CHECK(false);
    } catch (const RangeError& e) {
        CHECK(std::string(e.what()).find("of water would have to come out") != std::string::npos);
    }
}

TEST_CASE("sweetening: without sugar the true strength is the apparent one, up to pure ethanol; sugar needs water", "[proofing][errors]") {
    for (const double q : {0.0, 40.0, 97.0, 100.0}) {
        CAPTURE(q);
        CHECK(std::abs(value_in(apparent_strength(q * percent_vol, 0.0), percent_vol) - q) <= 1e-10);
    }
    CHECK(std::isnan(apparent_strength(std::nan("") * percent_vol, 5.0).value()));
    CHECK(std::isnan(sweeten(weigh(5.0 * litre, abw_from_abv(41.0 * percent_vol), 20.0 * degree_celsius), std::nan("") * percent_vol, 5.0).water.value()));
    try {
        static_cast<void>(apparent_strength(100.0 * percent_vol, 5.0));
        CHECK(false);
    } catch (const RangeError& e) {
        CAPTURE(e.what());
        CHECK(std::string(e.what()).find("abv 100 % vol is outside 0 to 99.") != std::string::npos);
        CHECK(std::string(e.what()).find("with 5 g/L of sugar in it") != std::string::npos);
    }
}
