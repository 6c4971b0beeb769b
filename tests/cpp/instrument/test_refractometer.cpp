#include <cmath>
#include <ferment/core/uncertain.hpp>
#include <ferment/instrument/refractometer.hpp>
#include <string>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double percent = 100.0;
constexpr auto plain_brix = refractometer_scale::brix;
constexpr auto compensated = refractometer_scale::compensated_brix;
constexpr auto index_scale = refractometer_scale::refractive_index;
constexpr auto starch = refractometer_sugar::starch_hydrolysate;

double true_brix(const Refractometer& r, const double reading, const double t) {
    return value_in(r.correct(reading, t * degree_celsius).brix, degree_plato);
}

struct Deviation {
    Worst from_10c;
    Worst colder;
    Worst off_scale;
    double squares = 0.0;
    [[nodiscard]] double rms() const { return std::sqrt(squares / static_cast<double>(from_10c.rows)); }
};
/// The correction computed less that printed, %. Water read below 20 degC is less than none, 75 % is more than the density formula holds for:
/// the door refuses both; the kernel is compared where it can be.
Deviation against(const std::string& table) {
    const Refractometer r;
    Deviation found;
    for (const Row& row : read_table("sugar_solutions/" + table)) {
        const double t = row.number("t_degC");
        const double shown = row.number("read_mass_pct");
        const double printed = row.number("correction_mass_pct");
        if (t == 5.0 && shown == 10.0) continue;  // doubtful: out of line with its neighbours
        if (shown > 70.0 || shown + printed < 0.0 || shown + printed > 70.0) {
            CAPTURE(row.line());
            CHECK_THROWS_AS(true_brix(r, shown, t), RangeError);
            found.off_scale.add(0.0, row.line());
            continue;
        }
        if (t < 10.0) {  // outside the range of the library: the kernel unchecked
            const double n = sucrose_refraction::index(shown / percent, 20.0);
            const double w = num::bracketed_newton<double>(
                [&](const double y) {
                    const auto here = sucrose_refraction::index_and_slope(y, t);
                    return num::value_and_slope<double>{here.value - n, here.slope};
                },
                0.0, 0.7, shown / percent);
            found.colder.add(percent * w - shown - printed, row.line());
            CHECK_THROWS_AS(true_brix(r, shown, t), RangeError);
            continue;
        }
        const double deviation = true_brix(r, shown, t) - shown - printed;
        found.from_10c.add(deviation, row.line());
        found.squares += deviation * deviation;
    }
    return found;
}

}  // namespace

// OIV-MA-AS2-02 table I, 5 to 17 degC, printed to 0.01.
TEST_CASE("refractometer: temperature correction of OIV table I", "[instrument][refractometer][published]") {
    const Deviation found = against("oiv_refractometer_temperature_correction.csv");
    CAPTURE(found.from_10c.value, found.from_10c.line, found.rms(), found.colder.value, found.colder.line);
    CHECK(found.from_10c.rows > 60);
    CHECK(found.from_10c.value <= 0.04);
    CHECK(found.rms() <= 0.015);
    // Below 10 degC the table goes on in a straight line where water does not: it disagrees by up to 0.087, and the library ends at 10 degC.
    CHECK(found.colder.value > 0.04);
    CHECK(found.colder.value <= 0.09);
}

// Interstate table of corrections to a laboratory refractometer, 10 to 21 degC, printed to 0.01.
TEST_CASE("refractometer: temperature correction of the interstate table", "[instrument][refractometer][published]") {
    const Deviation found = against("gost_refractometer_temperature_correction.csv");
    CAPTURE(found.from_10c.value, found.from_10c.line, found.rms());
    CHECK(found.from_10c.rows > 110);
    CHECK(found.off_scale.rows == 10);  // water, 10 to 19 degC
    CHECK(found.from_10c.value <= 0.04);
    CHECK(found.rms() <= 0.01);
}

TEST_CASE("refractometer: water read on a Brix scale, interstate table, as an index", "[instrument][refractometer][published]") {
    // The first column below 20 degC: the correction times the slope of the scale at zero is how much more water bends light when colder.
    const double slope = sucrose_refraction::index_and_slope(0.0, 20.0).slope / percent;
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/gost_refractometer_temperature_correction.csv")) {
        if (row.number("read_mass_pct") != 0.0) continue;
        const double t = row.number("t_degC");
        worst.add((iapws_r9::index(20.0) - iapws_r9::index(t)) / slope - row.number("correction_mass_pct"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(worst.rows == 11);
    CHECK(worst.value <= 0.02);
}

TEST_CASE("refractometer: at 20 degC every scale says the same", "[instrument][refractometer][identity]") {
    for (int i = 0; i <= 70; ++i) {
        const double n = sucrose_refraction::index(i / percent, 20.0);
        CAPTURE(i);
        CHECK(std::abs(true_brix(Refractometer(plain_brix), i, 20.0) - i) <= percent * round_trip);
        CHECK(std::abs(true_brix(Refractometer(compensated), i, 20.0) - i) <= percent * round_trip);
        CHECK(std::abs(true_brix(Refractometer(index_scale), n, 20.0) - i) <= percent * round_trip);
    }
    const CorrectedRefraction found = Refractometer().correct(12.0, 20.0 * degree_celsius);
    CHECK(found.refractive_index == found.at_sample);
    CHECK(found.dry_matter.value() == found.brix.value());
}

TEST_CASE("refractometer: compensation does what the correction does", "[instrument][refractometer][identity]") {
    for (const double t : {10.0, 15.0, 25.0, 30.0}) {
        for (const double shown : {2.0, 12.0, 40.0, 65.0}) {
            CAPTURE(t, shown);
            CHECK(std::abs(true_brix(Refractometer(compensated), shown, t) - shown) <= percent * round_trip);
            const double n = Refractometer(compensated).correct(shown, t * degree_celsius).at_sample;
            CHECK(std::abs(true_brix(Refractometer(index_scale), n, t) - shown) <= percent * round_trip);
            const double corrected = true_brix(Refractometer(), shown, t);
            CHECK((corrected > shown) == (t > 20.0));
        }
    }
}

TEST_CASE("refractometer: what it shows in a wash is corrected back to the wash", "[instrument][refractometer][identity]") {
    const Refractometer instruments[] = {Refractometer(plain_brix), Refractometer(compensated, 0.3), Refractometer(index_scale, 2e-4)};
    for (const Refractometer& r : instruments) {
        for (const double t : {10.0, 20.0, 29.0}) {
            for (const double e : {0.02, 0.06, 0.10, 0.30}) {
                for (const double x : {0.01, 0.05, 0.20}) {
                    CAPTURE(t, e, x);
                    const double shown = r.reads(abw<>::from_value(e), extract<>::from_value(x), t * degree_celsius);
                    CHECK(shown == r.shows(e, x, t));
                    const double q = wash::abv(e, x);
                    const RefractedWash by_strength = r.correct(shown, t * degree_celsius, SampleWash{SampleWash::known::strength, q});
                    CHECK(std::abs(by_strength.real_extract.value() - x) <= round_trip);
                    CHECK(std::abs(by_strength.strength.value() - e) <= round_trip);
                    const RefractedWash by_extract = r.correct(shown, t * degree_celsius, SampleWash{SampleWash::known::extract, x});
                    CHECK(std::abs(by_extract.strength.value() - e) <= round_trip);
                    CHECK(std::abs(by_extract.at_sample - wash_refraction::index(e, x, t)) <= 1e-13);
                }
            }
        }
    }
    // A wort is a wash without ethanol.
    const double shown = Refractometer().reads(0.0 * percent_mass, 12.0 * degree_plato, 25.0 * degree_celsius);
    CHECK(std::abs(true_brix(Refractometer(), shown, 25.0) - 12.0) <= percent * round_trip);
}

TEST_CASE("refractometer: starch hydrolysate reads 4.4 to 4.5 % high, ISO 1743", "[instrument][refractometer][published]") {
    // From the rows of the table at 20 degC: what the instrument shows, corrected, is the dry matter printed. At 30 degC likewise, uncompensated.
    const Refractometer r;
    const Refractometer direct(index_scale);
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/iso1743_glucose_syrup_refractive_index.csv")) {
        const double w = row.number("dry_matter_mass_pct");
        if (w == 0.0 || w == 66.0) continue;  // the last digit printed may lie beyond the ends of the fit
        for (const int t : {20, 30}) {
            const CorrectedRefraction found = direct.correct(row.number("nD_" + std::to_string(t) + "C"), double(t) * degree_celsius, starch);
            worst.add(value_in(found.dry_matter, degree_plato) - w, row.line());
            if (w >= 10.0 && w <= 28.0) {
                CAPTURE(row.line(), t);
                CHECK(std::abs(found.brix.value() / found.dry_matter.value() - 1.0445) <= 0.0015);
            }
        }
    }
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.015);  // 2.15e-5 of the index over a slope of at least 0.0015 per %
    const CorrectedRefraction found = r.correct(15.0, 20.0 * degree_celsius, starch);
    CHECK(std::abs(found.brix.value() - 0.15) <= round_trip);
    CHECK(found.dry_matter.value() == hydrolysate_from_brix(15.0 * degree_plato).value());
}

TEST_CASE("refractometer: the zero error is taken off", "[instrument][refractometer][edges]") {
    CHECK(std::abs(true_brix(Refractometer(plain_brix, 0.4), 12.4, 20.0) - 12.0) <= percent * round_trip);
    CHECK(std::abs(true_brix(Refractometer(plain_brix, -0.4), 11.6, 20.0) - 12.0) <= percent * round_trip);
    CHECK(Refractometer(index_scale, 1e-3).correct(1.351, 25.0 * degree_celsius).at_sample == 1.351 - 1e-3);
    CHECK_THROWS_AS(Refractometer(plain_brix, not_a_number), InputError);
    CHECK_THROWS_AS(Refractometer(plain_brix, infinity), InputError);
    CHECK(Refractometer(compensated).scale() == compensated);
}

TEST_CASE("refractometer: NaN in, NaN out; outside NaN from the kernel", "[instrument][refractometer][edges]") {
    const Refractometer r;
    CHECK(std::isnan(true_brix(r, not_a_number, 20.0)));
    CHECK(std::isnan(true_brix(r, 12.0, not_a_number)));
    CHECK(std::isnan(r.correct(not_a_number, 20.0 * degree_celsius, starch).dry_matter.value()));
    CHECK(std::isnan(r.correct(not_a_number, 20.0 * degree_celsius, SampleWash{SampleWash::known::strength, 0.08}).real_extract.value()));
    CHECK(std::isnan(r.correct(12.0, 20.0 * degree_celsius, SampleWash{SampleWash::known::strength, not_a_number}).real_extract.value()));
    CHECK(std::isnan(r.correct(12.0, 20.0 * degree_celsius, SampleWash{SampleWash::known::extract, not_a_number}).strength.value()));
    CHECK(std::isnan(r.reads(not_a_number * percent_mass, 3.0 * degree_plato, 20.0 * degree_celsius)));
    for (const double reading : {below(0.0), above(70.0), infinity, -infinity, not_a_number}) CHECK(std::isnan(r.index_at_sample(reading, 20.0)));
    for (const double t : {below(10.0), above(40.0), not_a_number}) CHECK(std::isnan(r.index_at_sample(12.0, t)));
    CHECK(std::isfinite(r.index_at_sample(70.0, 40.0)));
    CHECK(std::isfinite(r.index_at_sample(0.0, 10.0)));
    CHECK(std::isnan(Refractometer(compensated).index_at_sample(12.0, above(30.0))));
    CHECK(std::isnan(Refractometer(index_scale).index_at_sample(12.0, 20.0)));
    CHECK(std::isnan(r.shows(0.0, 0.0, 35.0)));  // water is off the scale when warm
    CHECK(std::isnan(Refractometer(compensated).shows(0.05, 0.03, 31.0)));
}

TEST_CASE("refractometer: the errors name quantity, value, unit and range", "[instrument][refractometer][edges]") {
    const Refractometer r;
    check_refused([&] { true_brix(r, 71.0, 20.0); }, "refractometer reading 71 degBx is outside 0 to 70 degBx (no refractometer");
    check_refused([&] { true_brix(r, -1.0, 20.0); }, "refractometer reading -1 degBx is outside 0 to 70 degBx");
    check_refused([&] { true_brix(r, 12.0, 41.0); }, "temperature 41 degC is outside 10 to 40 degC (fit to OIV");
    check_refused([&] { true_brix(r, 0.1, 15.0); }, "refractive index 1.333");
    check_refused([&] { true_brix(r, 70.0, 30.0); }, "refractive index 1.46");
    check_refused([&] { true_brix(Refractometer(compensated), 12.0, 31.0); }, "temperature 31 degC is outside 10 to 30 degC (where automatic compensation");
    check_refused([&] { true_brix(Refractometer(index_scale), 12.0, 20.0); }, "refractometer reading 12 is outside 1.3 to 1.55");
    check_refused([&] { (void)r.correct(12.0, 15.0 * degree_celsius, starch); }, "temperature 15 degC is outside 20 to 60 degC (ISO 1743");
    check_refused([&] { (void)r.correct(12.0, 20.0 * degree_celsius, SampleWash{SampleWash::known::strength, 0.9}); }, "abv 90 % vol is outside 0 to 80 % vol");
    check_refused([&] { (void)r.correct(1.0, 20.0 * degree_celsius, SampleWash{SampleWash::known::strength, 0.1}); }, "refractive index 1.334");
    check_refused([&] { (void)r.correct(1.0, 20.0 * degree_celsius, SampleWash{SampleWash::known::extract, 0.1}); }, "refractive index 1.334");
    check_refused([&] { (void)r.reads(0.0 * percent_mass, 0.0 * degree_plato, 30.0 * degree_celsius); }, "refractive index 1.33");
    check_refused([&] { (void)r.reads(5.0 * percent_mass, 3.0 * degree_plato, 41.0 * degree_celsius); }, "temperature 41 degC is outside 10 to 40");
}

TEST_CASE("refractometer: doubt of reading and temperature goes through", "[instrument][refractometer][uncertain]") {
    const Uncertain reading = Uncertain::input(7.0, 0.1, "reading");
    const Uncertain t = Uncertain::input(24.0, 0.5, "temperature");
    const Uncertain plain = Refractometer().index_at_sample(reading, t);
    CHECK(plain.budget().size() == 1);  // an uncompensated reading is an index, whatever the temperature
    const double slope = sucrose_refraction::index_and_slope(0.07, 20.0).slope / percent;
    CHECK(std::abs(plain.standard_uncertainty() - 0.1 * slope) <= 1e-12);
    CHECK(Refractometer(compensated).index_at_sample(reading, t).budget().size() == 2);
    const Uncertain shown = Refractometer().shows(Uncertain(0.06), Uncertain::input(0.02, 0.001, "extract"), Uncertain(20.0));
    CHECK(std::abs(shown.value() - Refractometer().shows(0.06, 0.02, 20.0)) <= 1e-9);
    CHECK(std::abs(shown.standard_uncertainty() - 0.1) <= 0.01);  // 0.1 % of extract is near 0.1 on the scale
}
