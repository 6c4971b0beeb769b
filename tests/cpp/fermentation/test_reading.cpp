#include <cmath>
#include <ferment/fermentation/reading.hpp>
#include <ferment/mash/grain_table.hpp>
#include <limits>
#include <string>

#include "catch.hpp"

using namespace ferment;

namespace {

constexpr double half_a_point = 0.0005;

Potential shed_wash() {
    Bill bill;
    bill.add(grain("hulless oats"), 12.0 * kilogram).add(grain("rye"), 5.0 * kilogram).add(grain("flaked rice"), 3.0 * kilogram);
    return potential(bill, 60.0 * kilogram, no_cook::assumptions());
}

WashReading read(const Potential& p, const double sg) {
    return read_wash(p, sg * sg_20_20, half_a_point);
}

}  // namespace

TEST_CASE("reading: the gravity behind it is monotonic both ways", "[fermentation][identity]") {
    const wash_model model = wash_model::of(shed_wash()).plain();
    for (double h = 0.0; h < 1.0; h += 0.05) {
        CAPTURE(h);
        CHECK(model.gravity(h + 0.05, 1.0) < model.gravity(h, 1.0));  // no sugar standing: falls with conversion
        CHECK(model.gravity(h + 0.05, 0.0) > model.gravity(h, 0.0));  // nothing fermented: rises
        for (double f = 0.0; f < 1.0; f += 0.1) {
            CHECK(model.gravity(h, f + 0.1) < model.gravity(h, f));
        }
    }
}

TEST_CASE("reading: nothing fermented and all dissolved is the equivalent original gravity", "[fermentation][identity]") {
    const Potential p = shed_wash();
    const WashReading r = read(p, 1.005);
    CHECK(std::abs((r.highest_gravity - p.theoretical.original_gravity).value()) <= 1e-14);
    CHECK(std::abs((r.end_gravity - end_point(p).gravity).value()) <= 1e-14);
    CHECK(r.lowest_gravity < r.end_gravity);
    CHECK(r.end_gravity < r.start_gravity);
}

TEST_CASE("reading: on the dry curve the conversion comes back", "[fermentation][identity]") {
    const Potential p = shed_wash();
    const wash_model model = wash_model::of(p).plain();
    for (const double h : {0.05, 0.2, 0.5, 0.8, 0.95}) {
        const WashReading r = read(p, model.gravity(h, 1.0).value());
        CAPTURE(h);
        CHECK(std::abs(r.conversion_without_sugar.value() - h) <= 1e-10);
        CHECK(std::abs(r.abv_without_sugar.value() - model.abv(h, 1.0).value()) <= 1e-11);
        CHECK(std::abs(r.least_conversion.value() - h) <= 1e-10);
    }
    for (const double h : {0.1, 0.4, 0.9}) {
        const WashReading r = read(p, model.gravity(h, 0.0).value());
        CAPTURE(h);
        CHECK(std::isnan(r.conversion_without_sugar.value()));
        CHECK(std::abs(r.least_conversion.value() - h) <= 1e-10);
        CHECK(std::abs(r.least_abv.value()) <= 1e-15);
    }
}

TEST_CASE("reading: everything between the ends of the interval agrees with the reading, nothing outside does", "[fermentation]") {
    const Potential p = shed_wash();
    const wash_model model = wash_model::of(p).plain();
    for (const double sg : {0.9985, 1.001, 1.004, 1.006, 1.0085, 1.02, 1.05}) {
        const WashReading r = read(p, sg);
        CAPTURE(sg, r.least_conversion.value(), r.most_conversion.value());
        REQUIRE(r.least_conversion.value() < r.most_conversion.value());
        CHECK(r.most_conversion.value() == p.conversion.value());
        CHECK(r.least_abv.value() >= 0.0);
        CHECK(r.least_abv < r.most_abv);
        CHECK(r.most_free_sugar.value() > 0.0);
        double last_abv = -1.0;
        for (double part = 0.0; part <= 1.0; part += 0.25) {
            // A little inside the interval the sugar can be shared out to match the reading ...
            const double h = r.least_conversion.value() + (1e-9 + part * (1.0 - 1e-9)) * (r.most_conversion.value() - r.least_conversion.value());
            CHECK(model.gravity(h, 1.0).value() <= sg);
            CHECK(model.gravity(h, 0.0).value() >= sg);
            // ... and alcohol rises with conversion along it.
            const Uncertain f = detail::solve_share([&](const Uncertain& x, const wash_model& m) { return m.gravity(h, x); }, model, Uncertain(sg));
            const double abv = model.abv(h, f).value();
            CHECK(abv > last_abv);
            last_abv = abv;
        }
        CHECK(std::abs(last_abv - r.most_abv.value()) <= 1e-10);
        if (r.least_conversion.value() > 1e-6) {
            const double below = r.least_conversion.value() - 1e-6;
            CHECK((model.gravity(below, 1.0).value() > sg || model.gravity(below, 0.0).value() < sg));
        }
    }
}

TEST_CASE("reading: verdicts", "[fermentation]") {
    const Potential p = shed_wash();
    const WashReading any = read(p, 1.0);
    const auto says = [&](const double sg) { return read(p, sg).says; };
    CHECK(says(any.start_gravity.value() + 1e-6) == verdict::sugar_standing);
    CHECK(says(1.03) == verdict::sugar_standing);
    CHECK(says(any.start_gravity.value() - 1e-6) == verdict::fermenting);
    const double doubt = (any.gravity - any.end_gravity).standard_uncertainty();
    CHECK(says(any.end_gravity.value() + 1.01 * doubt) == verdict::fermenting);
    CHECK(says(any.end_gravity.value() + 0.99 * doubt) == verdict::near_end_point);
    CHECK(says(any.end_gravity.value()) == verdict::near_end_point);
    CHECK(says(any.lowest_gravity.value() + 1e-9) == verdict::near_end_point);
    // Below what can be reached there is no strength, so the verdict does not say that all is well; beyond the doubt it says that it cannot be.
    CHECK(says(any.lowest_gravity.value() - 1e-6) == verdict::below_lowest);
    const double under = (any.gravity - any.lowest_gravity).standard_uncertainty();
    CHECK(says(any.lowest_gravity.value() - 1.99 * under) == verdict::below_lowest);
    CHECK(says(any.lowest_gravity.value() - 2.01 * under) == verdict::lower_than_possible);
    CHECK(std::isnan(read(p, any.lowest_gravity.value() - 1e-6).abv_without_sugar.value()));
    CHECK(to_string(verdict::below_lowest) == "below the lowest gravity of the plan");
    CHECK(says(0.97) == verdict::lower_than_possible);
    CHECK(says(1.2) == verdict::higher_than_possible);
    CHECK(says(any.highest_gravity.value() + 1e-6) == verdict::sugar_standing);
    CHECK(to_string(verdict::lower_than_possible) == "lower than any wash of this bill can go");
    CHECK(to_string(verdict::sugar_standing) == "not started, or sugar still standing");
}

TEST_CASE("reading: past the expected end point the reading has the word", "[fermentation]") {
    const Potential p = shed_wash();
    const wash_model model = wash_model::of(p).plain();
    const WashReading r = read(p, model.gravity(0.97, 1.0).value());
    CHECK(r.says == verdict::near_end_point);
    CHECK(std::abs(r.least_conversion.value() - 0.97) <= 1e-9);
    CHECK(r.most_conversion.value() == r.least_conversion.value());
    CHECK(r.most_abv.value() == r.least_abv.value());
    CHECK(std::abs(r.most_free_sugar.value()) <= 1e-12);
}

TEST_CASE("reading: its doubt follows from every input", "[fermentation]") {
    // The derivative of the solved conversion in the reading is one over that of the curve.
    const Potential p = shed_wash();
    const wash_model model = wash_model::of(p).plain();
    const double h = 0.5;
    const WashReading r = read(p, model.gravity(h, 1.0).value());
    const double step = 1e-5;
    const double slope = (model.gravity(h + step, 1.0) - model.gravity(h - step, 1.0)).value() / (2.0 * step);
    CHECK(std::abs(covariance(r.conversion_without_sugar, r.gravity) / (half_a_point * half_a_point) - 1.0 / slope) <= 1e-5 * std::abs(1.0 / slope));
    // Half a point on the hydrometer is worth about a thirtieth of the starch; the solubles of the grain are the larger doubt.
    CHECK(std::abs(half_a_point / slope) < 0.05);
    REQUIRE_FALSE(r.conversion_without_sugar.budget().empty());
    CHECK(r.conversion_without_sugar.budget()[0].name == "soluble share of the rest");
    // A sharper reading cannot make it worse.
    const WashReading sharper = read_wash(p, r.gravity.value() * sg_20_20, 0.0);
    CHECK(sharper.conversion_without_sugar.standard_uncertainty() < r.conversion_without_sugar.standard_uncertainty());
}

TEST_CASE("reading: a sugar wash has its sugar dissolved at once", "[fermentation]") {
    Bill bill;
    bill.add(grain("white sugar"), 10.0 * kilogram);
    const Potential p = potential(bill, 40.0 * kilogram, no_cook::assumptions());
    const WashReading r = read(p, 1.02);
    CHECK(r.says == verdict::fermenting);
    CHECK(std::abs(r.start_gravity.value() - p.theoretical.original_gravity.value()) <= 1e-14);
    CHECK(std::isnan(r.conversion_without_sugar.value()));
    CHECK(r.least_conversion.value() == 0.0);
    CHECK(std::abs(r.least_abv.value() - r.most_abv.value()) <= 1e-12);  // no starch, so one unknown only
}

TEST_CASE("reading: edges", "[fermentation][edges]") {
    const Potential p = shed_wash();
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    const WashReading none = read(p, nan);
    CHECK(none.says == verdict::no_reading);
    CHECK(std::isnan(none.least_abv.value()));
    CHECK_THROWS_AS(read(p, 1048.0), RangeError);
    CHECK_THROWS_AS(read(p, 0.5), RangeError);
    CHECK_THROWS_AS(read(p, -std::numeric_limits<double>::infinity()), RangeError);
    CHECK_THROWS_AS(read_wash(p, 1.0 * sg_20_20, -0.1), InputError);
    CHECK_THROWS_AS(read_wash(p, 1.0 * sg_20_20, 0.001, {2.0, 0.0}), RangeError);
    try {
        read(p, 1048.0);
        FAIL("no error");
    } catch (const RangeError& e) {
        CHECK(std::string(e.what()).find("gravity 1048 SG 20/20 is outside 0.7 to 1.5") != std::string::npos);
    }
}
