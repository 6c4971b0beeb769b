#include <cmath>
#include <ferment/core/uncertain.hpp>
#include <ferment/instrument/ebulliometer.hpp>
#include <string>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double percent = 100.0;
constexpr double glucose = wash_vapour::extract_molar_mass;

extract<> of(const double x) {
    return extract<>::from_value(x);
}
pressure<> pascals(const double p) {
    return pressure<>::from_value(p);
}

}  // namespace

TEST_CASE("ebulliometer: published boiling points of spirits", "[instrument][ebulliometer][published]") {
    // Soviet-era table (secondary), 0.1 to 0.05 K; SOURCES: T 0.45 K. What the model's boiling points cost in strength: 0.17 K at most below 10 % mass.
    const Ebulliometer instrument;
    Worst weak;
    Worst wash_strength;
    for (const Row& row : read_table("distillation/boiling_liquid_vapour_0_50wt.csv")) {
        const double w = row.number("x_wt_pct");
        if (w < 0.4 || w > 13.0) continue;
        const auto found = instrument.strength(row.number("T_C") * degree_celsius, 101.325 * kilopascal, of(0.0));
        (w <= 5.0 ? weak : wash_strength).add(percent * found.strength.value() - w, row.line());
    }
    CAPTURE(weak.value, weak.line, wash_strength.value, wash_strength.line);
    CHECK(weak.rows == 9);
    CHECK(weak.value <= 0.12);
    CHECK(wash_strength.rows == 7);
    CHECK(wash_strength.value <= 0.5);
}

TEST_CASE("ebulliometer: strength and reading are exact inverses", "[instrument][ebulliometer][identity]") {
    std::size_t points = 0;
    for (const double molar_mass : {90.0, glucose, 1000.0}) {
        const Ebulliometer instrument(0.3, molar_mass);
        for (const double p : {20e3, 70e3, 101325.0, 110e3}) {
            for (const double x : {0.0, 0.01, 0.05, 0.15, 0.30}) {
                const auto branch = boiling_point_strength::range(x, p, molar_mass);
                const double most = (1.0 - x) * wash_vapour::mass_fraction(branch.strongest);
                for (int i = 0; i <= 60; ++i) {
                    const double e = most * i / 64.0;  // not into the flat bottom at the azeotrope, where a reading says nothing
                    CAPTURE(molar_mass, p, x, e);
                    const celsius<> shown = instrument.reads(abw<>::from_value(e), of(x), pascals(p));
                    const EbulliometerReading found = instrument.strength(shown, pascals(p), of(x));
                    CHECK(std::abs(found.strength.value() - e) <= round_trip);
                    CHECK(found.by_volume.value() == wash_abv(found.strength, of(x)).value());
                    CHECK(found.abv_per_kelvin < 0.0);
                    ++points;
                }
            }
        }
    }
    CHECK(points == 3 * 4 * 5 * 61);
}

TEST_CASE("ebulliometer: more alcohol boils lower, extract hardly matters", "[instrument][ebulliometer][identity]") {
    const Ebulliometer instrument;
    const auto p = 101.325 * kilopascal;
    double last = infinity;
    for (int i = 0; i <= 90; ++i) {
        const double t = instrument.reads(static_cast<double>(i) * percent_mass, of(0.02), p).value();
        CHECK(t < last);
        last = t;
    }
    // In the same mixture of ethanol and water extract boils higher; in the place of water, at a given % by mass of ethanol, it may boil lower.
    CHECK(instrument.reads(0.06 * 0.95 * percent * percent_mass, of(0.05), p).value() > instrument.reads(6.0 * percent_mass, of(0.0), p).value());
    CHECK(instrument.reads(0.0 * percent_mass, of(0.05), p).value() > instrument.reads(0.0 * percent_mass, of(0.0), p).value());
    for (const double e : {0.0, 2.0, 6.0, 10.0}) {
        const celsius<> boiling = instrument.reads(e * percent_mass, of(0.02), p);
        const double moved = value_in(instrument.strength(boiling, p, of(0.03)).strength, percent_mass) - e;
        CAPTURE(e, moved);
        CHECK(std::abs(moved) <= 0.055);  // for 1 % of extract: 0.024 at 6 %, 0.052 at 10 %, as the header says
    }
}

TEST_CASE("ebulliometer: water boiled just before stands for the pressure", "[instrument][ebulliometer][identity]") {
    const Ebulliometer instrument;
    for (double kpa = 60.0; kpa <= 105.0; kpa += 5.0) {
        for (const double e : {0.0, 0.03, 0.08, 0.12}) {
            const celsius<> water = instrument.reads(0.0 * percent_mass, of(0.0), kpa * kilopascal);
            const celsius<> wash_at = instrument.reads(abw<>::from_value(e), of(0.02), kpa * kilopascal);
            const EbulliometerReading found = instrument.strength_against_water(water, wash_at, of(0.02));
            CAPTURE(kpa, e);
            CHECK(std::abs(found.strength.value() - e) <= round_trip);
            CHECK(std::abs(found.at_pressure.value() / (1e3 * kpa) - 1.0) <= 1e-12);
        }
    }
    // A zero 0.5 K out: alone it costs 0.72 % mass, against water 0.035 %.
    const auto p = 101.325 * kilopascal;
    const celsius<> water = (instrument.reads(0.0 * percent_mass, of(0.0), p).value() + 0.5) * degree_celsius;
    const celsius<> wash_at = (instrument.reads(8.0 * percent_mass, of(0.02), p).value() + 0.5) * degree_celsius;
    const double alone = value_in(instrument.strength(wash_at, p, of(0.02)).strength, percent_mass) - 8.0;
    const double against = value_in(instrument.strength_against_water(water, wash_at, of(0.02)).strength, percent_mass) - 8.0;
    CAPTURE(alone, against);
    CHECK(std::abs(alone) > 0.7);
    CHECK(std::abs(against) < 0.05 * std::abs(alone));
    // Water after water is water, to the last digit of the pressure between them.
    for (int i = 0; i <= 400; ++i) {
        const celsius<> boiling = (62.0 + 0.1 * i) * degree_celsius;
        CHECK(std::abs(instrument.strength_against_water(boiling, boiling, of(0.0)).strength.value()) <= 1e-12);
    }
    // The same zero, known: corrected, both agree.
    const Ebulliometer corrected(-0.5);
    CHECK(std::abs(value_in(corrected.strength(wash_at, p, of(0.02)).strength, percent_mass) - 8.0) <= 1e-8);
    CHECK(std::abs(value_in(corrected.strength_against_water(water, wash_at, of(0.02)).strength, percent_mass) - 8.0) <= 1e-8);
}

TEST_CASE("ebulliometer: how far the strength moves with the reading", "[instrument][ebulliometer][derivative]") {
    const Ebulliometer instrument;
    const auto p = 98.0 * kilopascal;
    for (const double e : {0.0, 0.05, 0.10, 0.40}) {
        const double t = instrument.reads(abw<>::from_value(e), of(0.02), p).value();
        const double inward = -1e-3;
        const double moved = (instrument.strength((t + inward) * degree_celsius, p, of(0.02)).by_volume.value() -
                              instrument.strength(t * degree_celsius, p, of(0.02)).by_volume.value()) /
                             inward;
        CAPTURE(e, moved);
        CHECK(std::abs(instrument.strength(t * degree_celsius, p, of(0.02)).abv_per_kelvin / moved - 1.0) <= 2e-3);
    }
}

TEST_CASE("ebulliometer: doubt of reading, pressure and extract goes through the inverse", "[instrument][ebulliometer][uncertain]") {
    const double t = 93.5;
    const double x = 0.03;
    const double p = 100e3;
    const auto strength = [&](const double at, const double with, const double under, const double m) {
        return boiling_point_strength::abw(at, with, under, m);
    };
    const Uncertain found = boiling_point_strength::abw(Uncertain::input(t, 0.1, "boiling point"), Uncertain::input(x, 0.01, "extract"),
                                                        Uncertain::input(p, 100.0, "pressure"), Uncertain::input(glucose, 60.0, "molar mass"));
    CHECK(std::abs(found.value() - strength(t, x, p, glucose)) <= 1e-12);
    const auto budget = found.budget();
    REQUIRE(budget.size() == 4);
    const auto amount = [&](const std::string& name) {
        for (const auto& c : budget) {
            if (c.name == name) return c.amount;
        }
        return not_a_number;
    };
    const auto slope = [](const auto& f, const double at, const double step) { return (f(at + step) - f(at - step)) / (2.0 * step); };
    const auto agree = [](const double a, const double b) {
        CAPTURE(a, b);
        CHECK(std::abs(a / b - 1.0) <= 1e-5);
    };
    agree(amount("boiling point"), 0.1 * slope([&](const double v) { return strength(v, x, p, glucose); }, t, 1e-3));
    agree(amount("extract"), 0.01 * slope([&](const double v) { return strength(t, v, p, glucose); }, x, 1e-4));
    agree(amount("pressure"), 100.0 * slope([&](const double v) { return strength(t, x, v, glucose); }, p, 10.0));
    agree(amount("molar mass"), 60.0 * slope([&](const double v) { return strength(t, x, p, v); }, glucose, 0.1));
    // Water keeps its doubt too.
    const Uncertain none = boiling_point_strength::abw(Uncertain::input(boiling_point(0.0 * percent_mass, pascals(p)).value(), 0.1, "boiling point"),
                                                       Uncertain(0.0), Uncertain(p), Uncertain(glucose));
    CHECK(std::abs(none.value()) <= 1e-12);
    CHECK(none.standard_uncertainty() > 5e-4);
}

TEST_CASE("ebulliometer: eight lanes give what eight scalars give", "[instrument][ebulliometer][lanes]") {
    const Eight t{99.0, 95.0, 93.0, 90.0, 85.0, 70.0, 101.0, not_a_number};
    const Eight x{0.0, 0.02, 0.05, 0.10, 0.0, 0.0, 0.0, 0.02};
    const Eight p{101325.0, 100e3, 98e3, 95e3, 101325.0, 101325.0, 101325.0, 101325.0};
    const Eight m{180.0, 180.0, 90.0, 342.0, 180.0, 180.0, 180.0, 180.0};
    const Lanes together = boiling_point_strength::abw(lanes_of(t), lanes_of(x), lanes_of(p), lanes_of(m));
    for (std::size_t i = 0; i < 8; ++i) {
        const double alone = boiling_point_strength::abw(t[i], x[i], p[i], m[i]);
        const double lane = together[static_cast<Eigen::Index>(i)];
        CAPTURE(i, alone, lane);
        CHECK(std::isnan(alone) == std::isnan(lane));
        CHECK((std::isnan(alone) || std::abs(alone - lane) <= 1e-11));
        CHECK(std::isnan(alone) == (i >= 5));
    }
}

TEST_CASE("ebulliometer: both ends belong to the range, beyond is refused", "[instrument][ebulliometer][edges]") {
    const Ebulliometer instrument;
    for (const double p : {20e3, 101325.0, 110e3}) {
        for (const double x : {0.0, 0.03, 0.2, wash_vapour::extract_range.upper}) {
            const auto branch = boiling_point_strength::range(x, p, glucose);
            const double most = (1.0 - x) * wash_vapour::mass_fraction(branch.strongest);
            CAPTURE(p, x, branch.coldest_c, branch.hottest_c);
            const auto at = [&](const double t) { return instrument.strength(t * degree_celsius, pascals(p), of(x)); };
            CHECK(at(branch.hottest_c).strength.value() == 0.0);
            CHECK(std::abs(at(branch.coldest_c).strength.value() - most) <= round_trip);
            CHECK(std::isfinite(at(branch.coldest_c).abv_per_kelvin));
            CHECK_THROWS_AS(at(branch.hottest_c + 1e-9), RangeError);
            CHECK_THROWS_AS(at(branch.coldest_c - 1e-9), RangeError);
            CHECK(std::isnan(boiling_point_strength::abw(branch.hottest_c + 1e-9, x, p, glucose)));
            CHECK(std::isnan(boiling_point_strength::abw(branch.coldest_c - 1e-9, x, p, glucose)));
        }
    }
    for (const double t : {infinity, -infinity, 0.0, 120.0}) {
        CHECK_THROWS_AS(instrument.strength(t * degree_celsius, 100.0 * kilopascal, of(0.0)), RangeError);
        CHECK_THROWS_AS(instrument.strength_against_water(t * degree_celsius, 93.0 * degree_celsius, of(0.0)), RangeError);
        CHECK(std::isnan(boiling_point_strength::abw(t, 0.0, 100e3, glucose)));
    }
    for (const double p : {below(20e3), above(110e3)}) {
        CHECK_THROWS_AS(instrument.strength(93.0 * degree_celsius, pascals(p), of(0.0)), RangeError);
        CHECK(std::isnan(boiling_point_strength::abw(60.0, 0.0, p, glucose)));
    }
    for (const double x : {below(0.0), 0.3001}) {
        CHECK_THROWS_AS(instrument.strength(93.0 * degree_celsius, 100.0 * kilopascal, of(x)), RangeError);
        CHECK(std::isnan(boiling_point_strength::abw(93.0, x, 100e3, glucose)));
    }
    CHECK(std::isnan(boiling_point_strength::abw(93.0, 0.02, 100e3, 50.0)));
    CHECK_THROWS_AS(Ebulliometer(5.1), RangeError);
    CHECK_THROWS_AS(Ebulliometer(0.0, 59.0), RangeError);
    CHECK_THROWS_AS(Ebulliometer(not_a_number), InputError);
    CHECK_THROWS_AS(Ebulliometer(0.0, not_a_number), InputError);
}

TEST_CASE("ebulliometer: NaN in, NaN out; the errors say what is possible", "[instrument][ebulliometer][edges]") {
    const Ebulliometer instrument;
    const double n = not_a_number;
    const auto check = [](const EbulliometerReading& found) {
        CHECK(std::isnan(found.strength.value()));
        CHECK(std::isnan(found.by_volume.value()));
        CHECK(std::isnan(found.abv_per_kelvin));
    };
    check(instrument.strength(n * degree_celsius, 100.0 * kilopascal, of(0.02)));
    check(instrument.strength(93.0 * degree_celsius, pascals(n), of(0.02)));
    check(instrument.strength(93.0 * degree_celsius, 100.0 * kilopascal, of(n)));
    check(instrument.strength_against_water(n * degree_celsius, 93.0 * degree_celsius, of(0.02)));
    check(instrument.strength_against_water(99.0 * degree_celsius, n * degree_celsius, of(0.02)));
    CHECK(std::isnan(instrument.reads(abw<>::from_value(n), of(0.02), 100.0 * kilopascal).value()));
    check_refused([&] { return instrument.strength(103.0 * degree_celsius, 101.325 * kilopascal, of(0.03)); }, "boiling point 103 degC is outside 78.33");
    CHECK(range_error([&] {
              return instrument.strength(103.0 * degree_celsius, 101.325 * kilopascal, of(0.03));
          }).find("a wash of 3 % extract at 101.325 kPa boils between the azeotrope and water") != std::string::npos);
    check_refused([&] { return instrument.strength_against_water(104.0 * degree_celsius, 93.0 * degree_celsius, of(0.0)); },
                  "boiling point of water 104 degC is outside 60.06");
    check_refused([&] { return instrument.strength(93.0 * degree_celsius, 200.0 * kilopascal, of(0.0)); }, "pressure 200 kPa is outside 20 to 110 kPa");
    check_refused([] { return Ebulliometer(6.0); }, "thermometer correction 6 K is outside -5 to 5 K");
}
