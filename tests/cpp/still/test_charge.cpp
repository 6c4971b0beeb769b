#include <cmath>
#include <ferment/still/charge.hpp>
#include <string>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double conserved = 1e-12;  // relative

bool close(const double a, const double b, const double relative = conserved) {
    return std::abs(a - b) <= relative * std::abs(b);
}
StillLiquid strained(const double litres, const double vol_percent = 8.0, const double plato = 3.0) {
    return still_liquid(litres * litre, vol_percent * percent_vol, plato * degree_plato);
}
StillSetup still_of(const double litres, const double head_space = usual_head_space_share) {
    StillSetup still;
    still.boiler_l = litres;
    still.head_space_share = head_space;
    return still;
}
void check_kept(const ChargePlan& plan, const StillLiquid& wash_in, const Reserve& reserve) {
    const double n = static_cast<double>(plan.count);
    const double back_kg = reserve.volume_l == 0.0 ? 0.0 : plan.reserve.mass_kg;
    CHECK(close(n * plan.charge.mass_kg, wash_in.mass_kg + n * back_kg));
    CHECK(close(n * plan.charge.ethanol_kg(), wash_in.ethanol_kg() + n * plan.reserve.ethanol_kg()));
    CHECK(close(n * plan.charge.extract_kg(), wash_in.extract_kg()));
    CHECK(plan.charge_l <= plan.usable_l * (1.0 + conserved));
}

}  // namespace

TEST_CASE("a liquid by volume comes back from its mass", "[still][charge]") {
    const StillLiquid w = strained(500.0);
    CHECK(close(w.volume_l(), 500.0));
    CHECK(close(w.abv(), 0.08));
    CHECK(close(w.pure_alcohol_l(), 40.0));
    CHECK(close(w.ethanol_kg() + w.extract_kg() + (w.volatile_kg() - w.ethanol_kg()), w.mass_kg));
    CHECK(close(w.extract_kg(), 0.03 * w.mass_kg));
    CHECK(close(strained(10.0, 0.0, 0.0).mass_kg, 10.0 * spirit_density(0.0 * percent_mass, 20.0 * degree_celsius).value() / 1000.0));
    CHECK(close(strained(1.0, 100.0, 0.0).abw, 1.0));
}

TEST_CASE("the fewest equal charges that fit", "[still][charge]") {
    const StillLiquid w = strained(1000.0);
    const ChargePlan plan = plan_charges(w, still_of(250.0));
    CHECK(plan.count == 6);
    CHECK(close(plan.usable_l, 187.5));
    CHECK(close(plan.charge_l, 1000.0 / 6.0));
    CHECK(close(plan.head_space_share, 1.0 - 1000.0 / 6.0 / 250.0));
    check_kept(plan, w, {});
    CHECK(!plan.cautions.empty());
    SECTION("filled to the mark is not one too many") {
        for (const double n : {1.0, 3.0, 4.0, 7.0}) {
            CAPTURE(n);
            CHECK(plan_charges(strained(187.5 * n), still_of(250.0)).count == static_cast<std::size_t>(n));
            CHECK(plan_charges(strained(187.5 * n + 0.01), still_of(250.0)).count == static_cast<std::size_t>(n) + 1);
        }
    }
    SECTION("one charge fewer would not fit") {
        for (const double litres : {50.0, 200.0, 333.0, 1234.5}) {
            const ChargePlan p = plan_charges(strained(litres), still_of(250.0));
            CAPTURE(litres);
            CHECK(litres / static_cast<double>(p.count) <= p.usable_l);
            CHECK((p.count == 1 || litres / static_cast<double>(p.count - 1) > p.usable_l));
        }
    }
}

TEST_CASE("heads and tails of the last run go into every charge by mass", "[still][charge]") {
    const StillLiquid w = strained(1000.0);
    const Reserve reserve{20.0, 0.30};
    const ChargePlan plan = plan_charges(w, reserve, still_of(250.0));
    CHECK(plan.count == 6);
    check_kept(plan, w, reserve);
    CHECK(close(plan.reserve.pure_alcohol_l(), 6.0));
    CHECK(plan.charge.abv() > 0.08);
    // Volumes do not add: wash of 8 % vol and tails of 30 % vol grow by 0.04 L, wash and heads of 60 % vol shrink.
    CHECK(plan.charge_l > 20.0 + 1000.0 / 6.0);
    CHECK(plan.charge_l < 20.0 + 1000.0 / 6.0 + 0.1);
    CHECK(plan_charges(w, Reserve{20.0, 0.60}, still_of(250.0)).charge_l < 20.0 + 1000.0 / 6.0);
    SECTION("so that two charges may be needed where the volumes alone ask for one") {
        const ChargePlan two = plan_charges(strained(167.49), Reserve{20.0, 0.30}, still_of(250.0));
        CHECK(167.49 + 20.0 < two.usable_l);
        CHECK(two.count == 2);
    }
    SECTION("and one charge may do where the volumes alone ask for two") {
        const Reserve strong{40.0, 0.60};
        const ChargePlan one = plan_charges(strained(147.6), strong, still_of(250.0));
        CHECK(147.6 + 40.0 > one.usable_l);
        CHECK(one.count == 1);
        check_kept(one, strained(147.6), strong);
    }
    SECTION("an empty reserve is none") {
        CHECK(plan_charges(w, Reserve{0.0, 0.4}, still_of(250.0)).charge.abw == plan_charges(w, still_of(250.0)).charge.abw);
    }
}

TEST_CASE("the head space of a published charge limit", "[still][charge]") {
    // Cognac, interprofessional site: 25 hL of low wines in a still of at most 30 hL, a sixth left empty.
    double limit_l = not_a_number;
    constexpr double litres_per_hectolitre = 100.0;
    for (const Row& row : read_table("distillation/cuts_and_low_wines.csv")) {
        if (row.text("quantity") == "cognac: second-run charge limit, hL") limit_l = litres_per_hectolitre * row.number("high");
    }
    REQUIRE(std::isfinite(limit_l));
    const ChargePlan plan = plan_charges(strained(limit_l, 30.0, 0.0), still_of(3000.0, 1.0 / 6.0));
    CHECK(plan.count == 1);
    CHECK(close(plan.head_space_share, 1.0 / 6.0, 1e-9));
    // A wash foams: the usual share leaves more.
    CHECK(plan_charges(strained(limit_l, 9.0), still_of(3000.0)).count == 2);
}

TEST_CASE("errors of a charge", "[still][charge]") {
    const StillLiquid w = strained(100.0);
    CHECK(begins(range_error([&] { plan_charges(w, still_of(0.0)); }), "boiler volume 0 L must be more than zero"));
    CHECK(begins(range_error([&] { plan_charges(w, still_of(100.0, 0.05)); }), "head space 5 % is outside 10 to 90 %"));
    CHECK(begins(range_error([&] { plan_charges(w, Reserve{75.0, 0.3}, still_of(100.0)); }), "volume of the reserve 75 L fills the boiler"));
    CHECK(begins(range_error([&] { plan_charges(w, Reserve{90.0, 0.3}, still_of(100.0)); }), "volume of the reserve 90 L is outside 0 to 75 L"));
    CHECK(begins(range_error([&] { plan_charges(w, Reserve{-1.0, 0.3}, still_of(100.0)); }), "volume of the reserve -1 L is below the lowest allowed, 0 L"));
    CHECK(begins(range_error([&] { plan_charges(w, Reserve{1.0, 1.3}, still_of(100.0)); }), "abv 130 % vol is outside 0 to 100 % vol"));
    CHECK(begins(range_error([&] { still_liquid(0.0 * litre, 8.0 * percent_vol, 3.0 * degree_plato); }), "volume of the liquid 0 L must be more than zero"));
    CHECK(begins(range_error([&] { still_liquid(1.0 * litre, 8.0 * percent_vol, 31.0 * degree_plato); }), "extract 31 % is outside 0 to 30"));
    CHECK(begins(range_error([&] { plan_charges(strained(1e9), still_of(1.0)); }), "the wash of 1000000000 L would make 1333333334 charges"));
    StillSetup high = still_of(100.0);
    high.pressure_kpa = 200.0;
    CHECK(begins(range_error([&] { plan_charges(w, high); }), "pressure 200 kPa is outside 20 to 110 kPa"));
    for (const double bad : {not_a_number, infinity}) {
        CHECK_THROWS_AS(still_liquid(bad * litre, 8.0 * percent_vol, 3.0 * degree_plato), InputError);
        CHECK_THROWS_AS(still_liquid(1.0 * litre, bad * percent_vol, 3.0 * degree_plato), InputError);
        CHECK_THROWS_AS(still_liquid(1.0 * litre, 8.0 * percent_vol, bad * degree_plato), InputError);
        CHECK_THROWS_AS(plan_charges(w, still_of(bad)), InputError);
        CHECK_THROWS_AS(plan_charges(w, still_of(100.0, bad)), InputError);
        CHECK_THROWS_AS(plan_charges(w, Reserve{bad, 0.3}, still_of(100.0)), InputError);
        CHECK_THROWS_AS(plan_charges(w, Reserve{1.0, bad}, still_of(100.0)), InputError);
        CHECK_THROWS_AS(plan_charges(StillLiquid{bad, 0.1, 0.0}, still_of(100.0)), InputError);
        CHECK_THROWS_AS(plan_charges(StillLiquid{1.0, bad, 0.0}, still_of(100.0)), InputError);
        CHECK_THROWS_AS(plan_charges(StillLiquid{1.0, 0.1, bad}, still_of(100.0)), InputError);
    }
}
