#include <algorithm>
#include <cmath>
#include <ferment/instrument/hydrometer.hpp>
#include <stdexcept>
#include <string>
#include <type_traits>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double percent = 100.0;
constexpr double round_off = 1e-12;  // relative; one exact inverse there and back
constexpr double calibration_c = 20.0;

Hydrometer made(const hydrometer_scale scale, const double calibration, const double glass = conventional_glass_expansion, const double meniscus = 0.0) {
    return Hydrometer(scale, calibration * degree_celsius, glass, meniscus);
}
SampleWash of_strength(const double abv_percent) {
    return {SampleWash::known::strength, abv_percent / percent};
}
SampleWash of_extract(const double mass_percent) {
    return {SampleWash::known::extract, mass_percent / percent};
}
bool close(const double a, const double b, const double relative = round_off) {
    return std::abs(a - b) <= relative * std::max(1.0, std::abs(b));
}
bool all_nan(const CorrectedReading& r) {
    return std::isnan(r.gravity.value()) && std::isnan(r.at_sample.value()) && std::isnan(r.strength.value()) && std::isnan(r.real_extract.value());
}
bool identical(const CorrectedReading& a, const CorrectedReading& b, const double relative = round_off) {
    return close(a.gravity.value(), b.gravity.value(), relative) && close(a.at_sample.value(), b.at_sample.value(), relative) &&
           close(a.strength.value(), b.strength.value(), relative) && close(a.real_extract.value(), b.real_extract.value(), relative);
}
bool contains(const std::string& message, const std::string& part) {
    return message.find(part) != std::string::npos;
}
/// A fact of the standards, by the name of its row.
double fact(const std::string& item) {
    for (const Row& row : read_table("sugar_solutions/hydrometer_and_method_facts.csv")) {
        if (row.text("item") == item) return row.number("value");
    }
    throw std::runtime_error("no fact " + item);
}

struct Deviation {
    Worst from_5c;
    Worst at_0c;
    double squares = 0.0;
    std::size_t off_scale = 0;
    [[nodiscard]] double rms() const { return std::sqrt(squares / static_cast<double>(from_5c.rows)); }
};
/// The saccharometer table against a saccharometer of a glass expansion.
Deviation against_saccharometer_table(const double glass) {
    const Hydrometer saccharometer = made(hydrometer_scale::plato, calibration_c, glass);
    Deviation found;
    for (const Row& row : read_table("sugar_solutions/saccharometer_temperature_correction_20C_from_memory.csv")) {
        const double observed = row.number("observed_pct");
        const celsius<> t = row.number("t_degC") * degree_celsius;
        const double printed = observed + row.number("correction_pct");
        // The true extract of these cells is less than none, or more than the 70 % of the density formula: refused, not extrapolated.
        if (printed < 0.0 || printed > percent * icumsa_sps4::extract_range.upper) {
            CAPTURE(row.line());
            CHECK_THROWS_AS(saccharometer.correct(observed, t, SampleWort{}), RangeError);
            ++found.off_scale;
            continue;
        }
        const double deviation = value_in(saccharometer.correct(observed, t, SampleWort{}).real_extract, degree_plato) - printed;
        if (t.value() < 5.0) {
            found.at_0c.add(deviation, row.line());
        } else {
            found.from_5c.add(deviation, row.line());
            found.squares += deviation * deviation;
        }
    }
    return found;
}

}  // namespace

// Table from memory (believed to be NBS Circular 440): tolerances are those of its header, 0.06 degBx from 5 degC and 0.12 at 0 degC.
TEST_CASE("saccharometer: temperature corrections 0 to 60 degC", "[instrument]") {
    const Deviation found = against_saccharometer_table(conventional_glass_expansion);
    CAPTURE(found.rms(), found.from_5c.value, found.from_5c.line, found.from_5c.rows, found.at_0c.value, found.at_0c.line, found.at_0c.rows, found.off_scale);
    CHECK(found.rms() <= 0.025);  // measured 0.0165 over 291 cells
    CHECK(found.from_5c.value <= 0.06);
    CHECK(found.at_0c.value <= 0.12);
    CHECK(found.from_5c.rows > 250);
    CHECK(found.at_0c.rows > 5);
    SECTION("the table holds the expansion of the glass") {
        CHECK(against_saccharometer_table(0.0).rms() > 4.0 * found.rms());
    }
}

TEST_CASE("hydrometer glass: conventional expansion of ISO 1768", "[instrument]") {
    CHECK(std::abs(conventional_glass_expansion - fact("conventional cubic expansion coefficient of glass hydrometers for measurement tables")) < 1e-18);
}

// Brazilian verification table of hydrous fuel ethanol, a secondary source: readings in steps of 5e-4 g/mL, 0.15 % mass; the header of the
// table grants 0.18 to its last row at 24.0 degC, which falls out of line with its neighbours.
TEST_CASE("densimeter: strong spirit of 92 to 95 percent mass at 22.5 to 25 degC", "[instrument]") {
    constexpr double g_ml = 1000.0;
    const Hydrometer densimeter = made(hydrometer_scale::density, calibration_c);
    Worst regular;
    Worst last_row;
    for (const Row& row : read_table("ethanol_water/fuel_ethanol_densimeter_22_25C.csv")) {
        const double t = row.number("t_C");
        const double reading = g_ml * row.number("density_reading_g_mL");
        const double found = value_in(densimeter.correct(reading, t * degree_celsius, SampleSpirit{}).strength, percent_mass);
        Worst& worst = (t == 24.0 && reading > 808.4) ? last_row : regular;
        worst.add(found - row.number("mass_percent"), row.line());
    }
    CAPTURE(regular.value, regular.line, regular.rows, last_row.value);
    CHECK(regular.value <= 0.15);
    CHECK(last_row.rows == 1);
    CHECK(last_row.value <= 0.185);  // 0.18 to the last printed digit
}

TEST_CASE("hydrometer at its calibration temperature: the reading is the truth", "[instrument]") {
    for (const double t0 : {10.0, 15.0, sixty_fahrenheit_c, 20.0, 25.0}) {
        const celsius<> t = t0 * degree_celsius;
        for (const double glass : {0.0, conventional_glass_expansion, 1e-3}) {
            const Hydrometer gravity = made(hydrometer_scale::specific_gravity, t0, glass);
            const Hydrometer plato = made(hydrometer_scale::plato, t0, glass);
            const Hydrometer dense = made(hydrometer_scale::density, t0, glass);
            CAPTURE(t0, glass);
            SECTION("wort " + std::to_string(t0) + " " + std::to_string(glass)) {
                for (const double sg : {1.0, 1.001, 1.048, 1.130, 1.30}) {
                    CHECK(close(gravity.correct(sg, t, SampleWort{}).at_sample.value(), sg * icumsa_sps4::water(t0)));
                }
                for (const double degree : {0.0, 0.5, 12.0, 30.0, 70.0}) {
                    const CorrectedReading r = plato.correct(degree, t, SampleWort{});
                    CHECK(close(value_in(r.real_extract, degree_plato), degree));
                    CHECK(r.strength.value() == 0.0);
                }
                CHECK(close(dense.correct(1048.0, t, SampleWort{}).at_sample.value(), 1048.0));
            }
            SECTION("spirit " + std::to_string(t0) + " " + std::to_string(glass)) {
                for (const double sg : {0.82, 0.9, 0.95, 0.99, 1.0}) {
                    CHECK(close(gravity.correct(sg, t, SampleSpirit{}).at_sample.value(), sg * oiml_r22::raw_density(0.0, t0)));
                }
                const CorrectedReading r = dense.correct(920.0, t, SampleSpirit{});
                CHECK(close(r.at_sample.value(), 920.0));
                CHECK(r.real_extract.value() == 0.0);
                // A dry spirit lies below 0 degP: the scale is continued by its own polynomial.
                const double below_zero = -3.0;
                CHECK(close(plato.correct(below_zero, t, SampleSpirit{}).at_sample.value(), icumsa_sps4::density_and_slope(below_zero / percent, t0).value));
            }
            SECTION("wash " + std::to_string(t0) + " " + std::to_string(glass)) {
                for (const SampleWash& sample : {of_strength(8.0), of_extract(3.0)}) {
                    for (const double sg : {0.995, 1.0, 1.005}) {
                        const CorrectedReading r = gravity.correct(sg, t, sample);
                        CHECK(close(r.at_sample.value() * wash::water_specific_volume(r.strength.value(), r.real_extract.value(), t0), sg));
                    }
                    CHECK(close(dense.correct(996.0, t, sample).at_sample.value(), 996.0));
                    CHECK(close(plato.correct(0.5, t, sample).at_sample.value(), icumsa_sps4::density(0.5 / percent, t0)));
                }
            }
        }
    }
    SECTION("calibrated at 20 degC the gravity is the reading itself") {
        const Hydrometer gravity = made(hydrometer_scale::specific_gravity, calibration_c);
        const celsius<> t = calibration_c * degree_celsius;
        CHECK(close(gravity.correct(1.048, t, SampleWort{}).gravity.value(), 1.048));
        CHECK(close(gravity.correct(0.95, t, SampleSpirit{}).gravity.value(), 0.95));
        CHECK(close(gravity.correct(0.994, t, of_strength(9.0)).gravity.value(), 0.994));
        CHECK(close(gravity.correct(1.006, t, of_extract(4.0)).gravity.value(), 1.006));
    }
}

// What floats is known, the stem is read by the flotation rule, and the correction must find it again.
TEST_CASE("hydrometer: a liquid of known composition is found again at any temperature", "[instrument]") {
    for (const double t0 : {15.0, sixty_fahrenheit_c, 20.0}) {
        const Hydrometer gravity = made(hydrometer_scale::specific_gravity, t0);
        const Hydrometer dense = made(hydrometer_scale::density, t0);
        for (const double t : {0.0, 4.0, 12.5, 20.0, 31.0, 40.0}) {
            const celsius<> at = t * degree_celsius;
            const double glass = 1.0 + conventional_glass_expansion * (t - t0);
            CAPTURE(t0, t);
            for (const double x : {0.0, 0.02, 0.1, 0.3, 0.69}) {
                const double floats = icumsa_sps4::density(x, t) * glass;
                CAPTURE(x);
                if (x > 0.0) {  // at 0 round-off decides on which side of water the density falls
                    CHECK(std::abs(gravity.correct(floats / icumsa_sps4::water(t0), at, SampleWort{}).real_extract.value() - x) <= round_trip);
                    CHECK(std::abs(dense.correct(floats, at, SampleWort{}).real_extract.value() - x) <= round_trip);
                    const CorrectedReading r = dense.correct(floats, at, of_strength(0.0));
                    CHECK(std::abs(r.real_extract.value() - x) <= round_trip);
                    CHECK(r.strength.value() == 0.0);
                }
            }
            for (const double p : {0.01, 0.2, 0.4, 0.8, 0.99}) {
                const double floats = oiml_r22::density(p, t) * glass;
                CAPTURE(p);
                const CorrectedReading spirit = gravity.correct(floats / oiml_r22::raw_density(0.0, t0), at, SampleSpirit{});
                CHECK(std::abs(spirit.strength.value() - p) <= round_trip);
                CHECK(std::abs(spirit.gravity.value() - oiml_r22::density(p, 20.0) / oiml_r22::density(0.0, 20.0)) <= round_trip);
                CHECK(identical(dense.correct(floats, at, of_extract(0.0)), dense.correct(floats, at, SampleSpirit{}), round_trip));
            }
            for (const double e : {0.0, 0.03, 0.08, 0.15}) {
                for (const double x : {0.001, 0.02, 0.06, 0.2}) {
                    CAPTURE(e, x);
                    const double floats = wash::density(e, x, t) * glass;
                    const double reading = floats * wash::water_specific_volume(e, x, t0);
                    const SampleWash by_strength = of_strength(percent * wash::abv(e, x));
                    const SampleWash by_extract = of_extract(percent * x);
                    for (const SampleWash& sample : {by_strength, by_extract}) {
                        // All the extract known and no ethanol: round-off decides whether such a wash exists.
                        if (e == 0.0 && sample.what == SampleWash::known::extract) continue;
                        const CorrectedReading by_gravity = gravity.correct(reading, at, sample);
                        CHECK(std::abs(by_gravity.strength.value() - e) <= round_trip);
                        CHECK(std::abs(by_gravity.real_extract.value() - x) <= round_trip);
                        CHECK(std::abs(by_gravity.gravity.value() - wash::gravity_20_20(e, x)) <= round_trip);
                        const CorrectedReading by_density = dense.correct(floats, at, sample);
                        CHECK(std::abs(by_density.strength.value() - e) <= round_trip);
                        CHECK(std::abs(by_density.real_extract.value() - x) <= round_trip);
                    }
                }
            }
        }
    }
}

// Corrections in degBx at 25 degC of a scale made for 20 degC, computed once by the same relation with the sucrose polynomial: a rule built
// on the expansion of water alone (that of the first row) would be too small for every sweeter wort.
TEST_CASE("hydrometer: the liquid expands more the more it holds", "[instrument]") {
    const Hydrometer saccharometer = made(hydrometer_scale::plato, calibration_c);
    const auto correction = [&](const double observed) {
        return value_in(saccharometer.correct(observed, 25.0 * degree_celsius, SampleWort{}).real_extract, degree_plato) - observed;
    };
    constexpr double printed = 0.005;  // two decimals
    CHECK(std::abs(correction(0.0) - 0.27) <= printed);
    CHECK(std::abs(correction(10.0) - 0.30) <= printed);
    CHECK(std::abs(correction(20.0) - 0.33) <= printed);
    CHECK(std::abs(correction(30.0) - 0.36) <= printed);
    SECTION("alcohol steers the correction of a dry wash") {
        const Hydrometer gravity = made(hydrometer_scale::specific_gravity, calibration_c);
        const celsius<> warm = 30.0 * degree_celsius;
        const double weak = gravity.correct(1.0, warm, of_strength(0.0)).gravity.value();
        const double strong = gravity.correct(1.0, warm, of_strength(14.0)).gravity.value();
        CHECK(strong > weak);
        CHECK(strong - weak < 0.002);
    }
}

TEST_CASE("hydrometer: glass that expands floats higher in the warm", "[instrument]") {
    const celsius<> warm = 40.0 * degree_celsius;
    const celsius<> cold = 5.0 * degree_celsius;
    const Hydrometer rigid = made(hydrometer_scale::specific_gravity, calibration_c, 0.0);
    const Hydrometer glass = made(hydrometer_scale::specific_gravity, calibration_c);
    const auto ratio = [&](const celsius<>& t, const auto& sample, const double reading) {
        return rigid.correct(reading, t, sample).at_sample.value() / glass.correct(reading, t, sample).at_sample.value();
    };
    CHECK(close(ratio(warm, SampleWort{}, 1.05), 1.0 + 20.0 * 25e-6));
    CHECK(close(ratio(cold, SampleWort{}, 1.05), 1.0 - 15.0 * 25e-6));
    CHECK(close(ratio(warm, SampleSpirit{}, 0.93), 1.0 + 20.0 * 25e-6));
    // A wash weighs its scale by its own water, which shifts by a hair with the composition found.
    CHECK(close(ratio(warm, of_strength(7.0), 1.0), 1.0 + 20.0 * 25e-6, 1e-6));
    CHECK(rigid.correct(1.05, warm, SampleWort{}).gravity.value() > glass.correct(1.05, warm, SampleWort{}).gravity.value());
}

TEST_CASE("hydrometer: the meniscus is added in units of the scale", "[instrument]") {
    const celsius<> t = 27.0 * degree_celsius;
    struct Case {
        hydrometer_scale scale;
        double reading;
        double meniscus;
    };
    for (const Case& c :
         {Case{hydrometer_scale::specific_gravity, 1.010, 0.0015}, Case{hydrometer_scale::plato, 2.5, 0.25}, Case{hydrometer_scale::density, 1010.0, 1.5}}) {
        const Hydrometer top = made(c.scale, calibration_c, conventional_glass_expansion, c.meniscus);
        const Hydrometer level = made(c.scale, calibration_c);
        const double read = c.reading + c.meniscus;
        CHECK(identical(top.correct(c.reading, t, SampleWort{}), level.correct(read, t, SampleWort{})));
        CHECK(identical(top.correct(c.reading, t, of_strength(5.0)), level.correct(read, t, of_strength(5.0))));
        CHECK(identical(top.correct(c.reading, t, of_extract(5.0)), level.correct(read, t, of_extract(5.0))));
        CHECK(top.correct(c.reading, t, SampleWort{}).gravity.value() > level.correct(c.reading, t, SampleWort{}).gravity.value() + 5e-4);
    }
    const Hydrometer top = made(hydrometer_scale::density, calibration_c, conventional_glass_expansion, -0.4);
    const Hydrometer level = made(hydrometer_scale::density, calibration_c);
    CHECK(identical(top.correct(930.4, t, SampleSpirit{}), level.correct(930.0, t, SampleSpirit{})));
}

TEST_CASE("hydrometer: the scale does not change what floats it", "[instrument]") {
    const celsius<> t = 33.0 * degree_celsius;
    const Hydrometer gravity = made(hydrometer_scale::specific_gravity, calibration_c);
    const Hydrometer plato = made(hydrometer_scale::plato, calibration_c);
    const Hydrometer dense = made(hydrometer_scale::density, calibration_c);
    const double rho = icumsa_sps4::density(0.14, calibration_c);
    const CorrectedReading expected = dense.correct(rho, t, SampleWort{});
    CHECK(identical(plato.correct(14.0, t, SampleWort{}), expected));
    CHECK(identical(gravity.correct(rho / icumsa_sps4::water(calibration_c), t, SampleWort{}), expected));
    CHECK(identical(plato.correct(14.0, t, of_strength(3.0)), dense.correct(rho, t, of_strength(3.0))));
    CHECK(Hydrometer().scale() == hydrometer_scale::specific_gravity);
    CHECK(plato.scale() == hydrometer_scale::plato);
    CHECK(identical(Hydrometer().correct(1.04, t, SampleWort{}), gravity.correct(1.04, t, SampleWort{})));
    static_assert(!std::is_convertible_v<double, Hydrometer>);
}

TEST_CASE("hydrometer: NaN in NaN out", "[instrument]") {
    const celsius<> warm = 25.0 * degree_celsius;
    const celsius<> unknown = not_a_number * degree_celsius;
    for (const hydrometer_scale scale : {hydrometer_scale::specific_gravity, hydrometer_scale::plato, hydrometer_scale::density}) {
        const Hydrometer h = made(scale, calibration_c);
        const double reading = scale == hydrometer_scale::density ? 1000.5 : scale == hydrometer_scale::plato ? 0.9 : 1.0;
        CHECK(all_nan(h.correct(not_a_number, warm, SampleWort{})));
        CHECK(all_nan(h.correct(not_a_number, warm, SampleSpirit{})));
        CHECK(all_nan(h.correct(not_a_number, warm, of_strength(5.0))));
        CHECK(std::isnan(h.correct(not_a_number, warm, of_extract(5.0)).strength.value()));
        CHECK(all_nan(h.correct(reading, unknown, SampleWort{})));
        CHECK(std::isnan(h.correct(reading, unknown, SampleSpirit{}).strength.value()));
        CHECK(std::isnan(h.correct(reading, unknown, of_strength(5.0)).real_extract.value()));
        CHECK(std::isnan(h.correct(reading, unknown, of_extract(5.0)).strength.value()));
        CHECK(all_nan(h.correct(reading, warm, of_strength(not_a_number))));
        CHECK(all_nan(h.correct(reading, warm, of_extract(not_a_number))));
    }
}

TEST_CASE("hydrometer: readings that nothing floats are refused", "[instrument]") {
    const celsius<> t = 20.0 * degree_celsius;
    const Hydrometer h;
    const Hydrometer dense = made(hydrometer_scale::density, calibration_c);
    const Hydrometer plato = made(hydrometer_scale::plato, calibration_c);
    const auto wort = [&](const Hydrometer& with, const double reading, const celsius<>& at) {
        return range_error([&] { (void)with.correct(reading, at, SampleWort{}); });
    };
    const auto spirit = [&](const Hydrometer& with, const double reading, const celsius<>& at) {
        return range_error([&] { (void)with.correct(reading, at, SampleSpirit{}); });
    };
    const auto fermenting = [&](const Hydrometer& with, const double reading, const celsius<>& at, const SampleWash& sample) {
        return range_error([&] { (void)with.correct(reading, at, sample); });
    };
    CHECK(begins(wort(h, 0.5, t), "hydrometer reading 0.5 SG is outside 0.6 to 2 SG"));
    CHECK(begins(spirit(h, 0.5, t), "hydrometer reading 0.5 SG is outside 0.6 to 2 SG"));
    CHECK(begins(wort(h, 1048.0, t), "hydrometer reading 1048 SG is outside 0.6 to 2 SG"));
    CHECK(begins(wort(dense, 1.048, t), "hydrometer reading 1.048 kg/m3 is outside 600 to 2000 kg/m3"));
    CHECK(begins(spirit(dense, 0.9, t), "hydrometer reading 0.9 kg/m3 is outside 600 to 2000 kg/m3"));
    CHECK(begins(wort(plato, 1e4, t), "hydrometer reading 10000 degP is outside"));
    CHECK(begins(wort(h, 0.95, t), "hydrometer reading 0.95 SG at 20 degC is below that of water, and no wort is that light"));
    CHECK(begins(wort(h, 1.5, t), "density 1497.3"));
    CHECK(contains(wort(h, 1.5, t), "sucrose solutions"));
    CHECK(begins(spirit(h, 1.05, t), "density 1048.11"));  // heavier than water: no spirit
    CHECK(contains(spirit(h, 1.05, t), "ethanol-water mixtures"));
    CHECK(begins(fermenting(h, 0.9, t, of_strength(8.0)), "hydrometer reading 0.9 at 20 degC is too low for a wash of 8 % vol, whatever its extract"));
    CHECK(begins(fermenting(h, 1.9, t, of_strength(8.0)), "hydrometer reading 1.9 at 20 degC is too high for a wash of 8 % vol, whatever its extract"));
    CHECK(begins(fermenting(h, 0.7, t, of_extract(3.0)), "hydrometer reading 0.7 at 20 degC is too low for a wash of 3 % extract, whatever its strength"));
    CHECK(begins(fermenting(h, 1.2, t, of_extract(3.0)), "hydrometer reading 1.2 at 20 degC is too high for a wash of 3 % extract, whatever its strength"));
    for (const double endless : {infinity, -infinity}) {
        CHECK(contains(wort(h, endless, t), "inf SG is outside 0.6 to 2 SG"));
        CHECK(contains(spirit(h, endless, t), "inf SG is outside 0.6 to 2 SG"));
        CHECK(contains(wort(plato, endless, t), "inf degP is outside"));
        CHECK(contains(fermenting(h, endless, t, of_strength(8.0)), "inf SG is outside 0.6 to 2 SG"));
        CHECK(contains(fermenting(h, endless, t, of_extract(8.0)), "inf SG is outside 0.6 to 2 SG"));
        CHECK(begins(wort(h, 1.05, endless * degree_celsius), "temperature"));
        CHECK(begins(fermenting(h, 1.0, endless * degree_celsius, of_strength(8.0)), "temperature"));
    }
    SECTION("temperature") {
        CHECK(begins(wort(h, 1.05, 80.1 * degree_celsius), "temperature 80.1 degC is outside 0 to 80 degC"));
        CHECK(begins(wort(h, 1.05, -1.0 * degree_celsius), "temperature -1 degC is outside 0 to 80 degC"));
        CHECK(begins(spirit(h, 0.93, 40.5 * degree_celsius), "temperature 40.5 degC is outside -20 to 40 degC"));
        CHECK(begins(fermenting(h, 1.0, 41.0 * degree_celsius, of_strength(8.0)), "temperature 41 degC is outside 0 to 40 degC"));
        CHECK(begins(fermenting(h, 1.0, -0.5 * degree_celsius, of_extract(1.0)), "temperature -0.5 degC is outside 0 to 40 degC"));
        CHECK(begins(spirit(h, 1.0, -10.0 * degree_celsius), "density"));  // that weak it is ice
    }
    SECTION("the sample of the wash") {
        CHECK(begins(fermenting(h, 1.0, t, of_strength(-1.0)), "abv -1 % vol is outside 0 to 100 % vol"));
        CHECK(begins(fermenting(h, 1.0, t, of_strength(101.0)), "abv 101 % vol is outside 0 to 100 % vol"));
        CHECK(begins(fermenting(h, 1.0, t, of_extract(-1.0)), "extract -1 % mass is outside 0 to 70 % mass"));
        CHECK(begins(fermenting(h, 1.0, t, of_extract(71.0)), "extract 71 % mass is outside 0 to 70 % mass"));
    }
}

TEST_CASE("hydrometer: an instrument that cannot be is refused", "[instrument]") {
    const auto error = [](const double calibration, const double glass, const double meniscus) {
        return range_error([&] { (void)made(hydrometer_scale::plato, calibration, glass, meniscus); });
    };
    CHECK(begins(error(60.0, 25e-6, 0.0), "calibration temperature 60 degC is outside 0 to 40 degC"));
    CHECK(begins(error(-1.0, 25e-6, 0.0), "calibration temperature -1 degC is outside 0 to 40 degC"));
    CHECK(begins(error(20.0, -1e-6, 0.0), "glass expansion -1e-06 1/K is outside 0 to 0.001 1/K"));
    CHECK(begins(error(20.0, 25.0, 0.0), "glass expansion 25 1/K is outside 0 to 0.001 1/K"));
    CHECK(begins(error(infinity, 25e-6, 0.0), "calibration temperature inf degC"));
    CHECK_THROWS_AS(made(hydrometer_scale::plato, not_a_number), InputError);
    CHECK_THROWS_AS(made(hydrometer_scale::plato, calibration_c, not_a_number), InputError);
    CHECK_THROWS_AS(made(hydrometer_scale::plato, calibration_c, 25e-6, not_a_number), InputError);
    CHECK_THROWS_AS(made(hydrometer_scale::plato, calibration_c, 25e-6, infinity), InputError);
    CHECK(begins(error(20.0, 25e-6, 6.0), "meniscus correction 6 degP is outside -5 to 5 degP"));
}

TEST_CASE("hydrometer: a guess of the strength is good enough", "[instrument]") {
    // What the documentation of correct promises of a wash that nobody knows: 3 or 6 % vol, whatever the reading.
    const Hydrometer h = made(hydrometer_scale::specific_gravity, calibration_c);
    struct Promise {
        double t;
        double gravity;
    };
    for (const Promise& p : {Promise{10.0, 1.7e-4}, {15.0, 1e-4}, {18.0, 1e-4}, {20.0, 1e-12}, {24.0, 1e-4}, {30.0, 1.7e-4}, {40.0, 3e-4}}) {
        for (const double reading : {1.0, 1.012, 1.03, 1.05}) {
            CAPTURE(p.t, reading);
            const double weak = h.correct(reading, p.t * degree_celsius, of_strength(3.0)).gravity.value();
            const double strong = h.correct(reading, p.t * degree_celsius, of_strength(6.0)).gravity.value();
            CHECK(std::abs(strong - weak) <= p.gravity);
        }
    }
}

TEST_CASE("hydrometer: what it shows in a wash is the inverse of correct", "[instrument]") {
    for (const hydrometer_scale scale : {hydrometer_scale::specific_gravity, hydrometer_scale::plato, hydrometer_scale::density}) {
        for (const double calibration : {15.0, 20.0}) {
            const Hydrometer glass = made(scale, calibration, conventional_glass_expansion, scale == hydrometer_scale::density ? 0.2 : 0.0002);
            for (const double t : {0.0, 8.0, 20.0, 24.0, 40.0}) {
                for (const double e : {0.001, 0.02, 0.065, 0.14}) {  // at exactly none, round-off decides whether such a wash exists
                    for (const double x : {0.0, 0.018, 0.08}) {
                        CAPTURE(static_cast<int>(scale), calibration, t, e, x);
                        const double reading = glass.reads(abw<>::from_value(e), extract<>::from_value(x), t * degree_celsius);
                        const CorrectedReading back = glass.correct(reading, t * degree_celsius, SampleWash{SampleWash::known::extract, x});
                        CHECK(std::abs(back.strength.value() - e) <= 1e-10);
                        CHECK(close(back.gravity.value(), wash::gravity_20_20(e, x), 1e-10));
                    }
                }
            }
        }
    }
    const Hydrometer glass;
    CHECK(std::isnan(glass.reads(abw<>::from_value(std::nan("")), extract<>::from_value(0.0), 20.0 * degree_celsius)));
    CHECK(std::isnan(glass.stem(0.05, 0.02, 41.0)));
    CHECK_THROWS_AS(glass.reads(abw<>::from_value(0.05), extract<>::from_value(0.02), 41.0 * degree_celsius), RangeError);
    CHECK_THROWS_AS(glass.reads(abw<>::from_value(0.5), extract<>::from_value(0.6), 20.0 * degree_celsius), RangeError);
}
