#include <algorithm>
#include <cmath>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/refraction.hpp>
#include <string>

#include "checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double percent = 100.0;

double sucrose(const double w_percent, const double t) {
    return sucrose_refractive_index(w_percent * degree_plato, t * degree_celsius);
}
double glucose(const double w_percent) {
    return glucose_refractive_index(w_percent * degree_plato);
}
double hydrolysate(const double w_percent, const double t) {
    return hydrolysate_refractive_index(w_percent * degree_plato, t * degree_celsius);
}
double spirit(const double p_percent, const double t) {
    return spirit_refractive_index(p_percent * percent_mass, t * degree_celsius);
}
double washed(const double e_percent, const double x_percent, const double t) {
    return wash_refractive_index(e_percent * percent_mass, x_percent * degree_plato, t * degree_celsius);
}
double brix(const double n, const double t) {
    return value_in(brix_from_refractive_index(n, t * degree_celsius), degree_plato);
}

}  // namespace

TEST_CASE("refraction of water: check values of the release, and the water of ISO 1743", "[liquid][refraction][published]") {
    // IAPWS R9-97: 25 degC, 0.1 MPa, 0.2265 um; and steam of 30.4758534 kg/m3 at 500 degC, 0.5893 um; eight decimals printed.
    constexpr double last_digit = 0.5e-8;
    CHECK(std::abs(iapws_r9::in_vacuum(997.047435, 25.0, 0.2265) - 1.39277824) <= last_digit);
    CHECK(std::abs(iapws_r9::in_vacuum(30.4758534, 500.0) - 1.00949307) <= last_digit);
    for (const Row& row : read_table("sugar_solutions/iso1743_glucose_syrup_refractive_index.csv")) {
        if (row.number("dry_matter_mass_pct") != 0.0) continue;
        for (const int t : {20, 30, 45, 60}) {
            CAPTURE(t);
            CHECK(std::abs(water_refractive_index(double(t) * degree_celsius) - row.number("nD_" + std::to_string(t) + "C")) <= 1e-5);
        }
    }
    SECTION("against vacuum it would be missed: the table is against air") {
        CHECK(std::abs(iapws_r9::in_vacuum(iapws_sr6::density(20.0), 20.0) - 1.33299) > 3e-4);
    }
}

TEST_CASE("refraction of sucrose: OIV-MA-AS2-02 table II, 10 to 30 % at 20 degC", "[liquid][refraction][published]") {
    Worst index;
    Worst back;
    for (const Row& row : read_table("sugar_solutions/oiv_must_refractometry_10_30pct.csv")) {
        const double w = row.number("sucrose_mass_pct");
        index.add(sucrose(w, 20.0) - row.number("nD_20C"), row.line());
        back.add(brix(row.number("nD_20C"), 20.0) - w, row.line());
    }
    CAPTURE(index.line, back.line);
    CHECK(index.rows > 150);
    CHECK(index.value <= 1e-5);
    CHECK(back.value <= 0.007);  // 1e-5 of the index over a slope of at least 0.0015 per %
}

TEST_CASE("refraction of sucrose: CRC Handbook, 102nd ed., 0 to 70 % at 20 degC", "[liquid][refraction][published]") {
    Worst worst;
    std::size_t beyond = 0;
    for (const Row& row : read_table("sugar_solutions/crc_20C_sucrose.csv")) {
        const double w = row.number("mass_pct");
        if (w > 70.0) {
            CHECK_THROWS_AS(sucrose(w, 20.0), RangeError);
            ++beyond;
            continue;
        }
        worst.add(sucrose(w, 20.0) - row.number("nD_20C"), row.line());
    }
    CAPTURE(worst.line);
    CHECK(beyond == 1);
    CHECK(worst.value <= 1e-4);
}

TEST_CASE("refraction of sucrose: ICUMSA 1974, from memory", "[liquid][refraction]") {
    // Six decimals as remembered. Not used in the fit; up to 40 % within 2e-6, above that the four decimals of the fitted table let it go 4e-5.
    Worst dilute;
    Worst dense;
    for (const Row& row : read_table("sugar_solutions/icumsa1974_refractive_index_from_memory.csv")) {
        const double w = row.number("mass_pct");
        (w <= 40.0 ? dilute : dense).add(sucrose(w, 20.0) - row.number("nD_20C"), row.line());
    }
    CAPTURE(dilute.line, dense.line);
    CHECK(dilute.value <= 5e-6);
    CHECK(dense.value <= 4e-5);
}

TEST_CASE("refraction of sucrose: the published quintic of Brix in nD is biased against the table it fits", "[liquid][refraction][published]") {
    // Stated with its source: 0.015 to 0.021 degBx low on every row of OIV table II; the library is not.
    const auto quintic = [](const double n) { return ((((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.80) * n + 318417.95) * n - 99127.4536; };
    for (const Row& row : read_table("sugar_solutions/oiv_must_refractometry_10_30pct.csv")) {
        const double apart = quintic(row.number("nD_20C")) - brix(row.number("nD_20C"), 20.0);
        CAPTURE(row.line(), apart);
        CHECK(apart < -0.010);
        CHECK(apart > -0.027);  // 0.021 and half of the last digit of nD
    }
}

TEST_CASE("refraction of sucrose: expansion above 20 degC agrees with that of starch syrup, ISO 1743", "[liquid][refraction][published]") {
    // No published table of sucrose above 21 degC was found. What a sucrose scale shows of one syrup at 20 degC and at t differs by what it
    // would show of a sucrose solution, as far as both liquids expand alike. 45 and 60 degC are beyond the range: the kernel unchecked.
    const auto apart = [](const double t, const std::string& column) {
        Worst worst;
        for (const Row& row : read_table("sugar_solutions/iso1743_glucose_syrup_refractive_index.csv")) {
            const double w = row.number("dry_matter_mass_pct");
            if (w < 10.0 || w > 50.0) continue;
            const double n = row.number(column);
            const double corrected = num::bracketed_newton<double>(
                [&](const double y) {
                    const auto here = sucrose_refraction::index_and_slope(y, t);
                    return num::value_and_slope<double>{here.value - n, here.slope};
                },
                0.0, 0.7, w / percent);
            worst.add(percent * corrected - brix(row.number("nD_20C"), 20.0), row.line());
            if (t <= sucrose_refraction::t_range.upper) CHECK(std::abs(percent * corrected - brix(n, t)) <= percent * round_trip);
        }
        return worst;
    };
    const Worst at_30 = apart(30.0, "nD_30C");
    const Worst at_45 = apart(45.0, "nD_45C");
    const Worst at_60 = apart(60.0, "nD_60C");
    CAPTURE(at_30.line, at_45.line, at_60.line, at_30.value, at_45.value, at_60.value);
    CHECK(at_30.rows == 17);
    CHECK(at_30.value <= 0.03);
    CHECK(at_45.value <= 0.05);
    CHECK(at_60.value <= 0.06);
}

TEST_CASE("refraction of glucose: CRC Handbook, 102nd ed., at 20 degC", "[liquid][refraction][published]") {
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/crc_20C_glucose.csv")) worst.add(glucose(row.number("mass_pct")) - row.number("nD_20C"), row.line());
    CAPTURE(worst.line);
    CHECK(worst.value <= 0.5e-4);
    // Both tables, four decimals each, at 10 %: 1.3477 and 1.3478, so 0.07 % low on the sucrose scale, give or take the last digits.
    CHECK(std::abs(10.0 - brix(glucose(10.0), 20.0) - 0.07) <= 1e-4 / 0.0015);
}

TEST_CASE("refraction of maltose lies between glucose and starch syrup, CRC Handbook, 102nd ed.", "[liquid][refraction][published]") {
    for (const Row& row : read_table("sugar_solutions/crc_20C_maltose.csv")) {
        const double w = row.number("mass_pct");
        if (w < 5.0 || w > 60.0) continue;
        CAPTURE(row.line());
        CHECK(row.number("nD_20C") > glucose(w));
        CHECK(row.number("nD_20C") < hydrolysate(w, 20.0));
    }
}

TEST_CASE("refraction of starch hydrolysate: ISO 1743, 20 to 60 degC", "[liquid][refraction][published]") {
    // The fit misses 2e-5 by 0.12e-5 in its worst cell; the misprint of the table is corrected in the file.
    Worst worst;
    for (const Row& row : read_table("sugar_solutions/iso1743_glucose_syrup_refractive_index.csv")) {
        for (const int t : {20, 30, 45, 60}) {
            worst.add(hydrolysate(row.number("dry_matter_mass_pct"), t) - row.number("nD_" + std::to_string(t) + "C"), row.line());
        }
    }
    CAPTURE(worst.line);
    CHECK(worst.rows == 4 * 28);
    CHECK(worst.value <= 2.15e-5);
}

TEST_CASE("refraction: a sucrose scale reads starch hydrolysate 4.4 to 4.5 % high from 10 to 28 %", "[liquid][refraction][published]") {
    // Stated with ISO 1743 and OIV table II; nD is given to 1e-5, 0.07 % of 10 %.
    for (const double w : {10.0, 12.0, 14.0, 16.0, 20.0, 22.0, 24.0, 26.0}) {
        const double shown = brix(hydrolysate(w, 20.0), 20.0);
        CAPTURE(w, shown);
        CHECK(shown / w - 1.0 > 0.044 - 0.001);
        CHECK(shown / w - 1.0 < 0.045 + 0.001);
        CHECK(std::abs(value_in(hydrolysate_from_brix(shown * degree_plato), degree_plato) - w) <= percent * round_trip);
    }
}

TEST_CASE("refraction of spirit: CRC Handbook, 102nd ed., ethanol at 20 degC", "[liquid][refraction][published]") {
    // Four decimals, which scatter more than their rounding: the fit is within 1e-4 up to 94 %; 96 % is 1.8e-4 off, pure ethanol 1.1e-4.
    Worst ordinary;
    Worst strong;
    for (const Row& row : read_table("ethanol_water/crc_ethanol_20C.csv")) {
        const double p = row.number("mass_percent");
        (p <= 94.0 ? ordinary : strong).add(spirit(p, 20.0) - row.number("nD20"), row.line());
    }
    CAPTURE(ordinary.value, ordinary.line, strong.value, strong.line);
    CHECK(ordinary.value <= 1e-4);
    CHECK(strong.rows == 2);
    CHECK(strong.value <= 1.8e-4);
    // Pure ethanol at 25 degC is 1.3594 from memory; its slope, from 1.3614 at 20 degC, is met to the rounding of both.
    CHECK(std::abs((spirit(100.0, 20.0) - spirit(100.0, 25.0)) - (1.3614 - 1.3594)) <= 1e-4);
}

TEST_CASE("refraction of spirit: one maximum near 80 %, and the inverse stays below it", "[liquid][refraction][identity]") {
    for (const double t : {10.0, 20.0, 30.0, 40.0}) {
        int turns = 0;
        double top = 0.0;
        bool rising = true;
        for (int i = 1; i <= 1000; ++i) {
            const double p = i / 1000.0;
            const double slope = spirit_refraction::index(p, t) - spirit_refraction::index((i - 1) / 1000.0, t);
            if (p <= spirit_refraction::rising_range.upper) rising = rising && slope > 0.0;
            if (slope < 0.0 && turns == 0) top = p;
            turns += slope < 0.0 && turns == 0 ? 1 : 0;
            if (turns > 0) CHECK(slope < 0.0);
        }
        CAPTURE(t, top);
        CHECK(rising);
        CHECK(top > 0.76);
        CHECK(top < 0.83);
    }
    // The table has its greatest index, 1.3658, at 80 %.
    CHECK(std::abs(spirit(80.0, 20.0) - 1.3658) <= 1e-4);
    check_refused([] { abw_from_refractive_index(1.3658, 20.0 * degree_celsius); }, "refractive index 1.3658 is outside 1.33298");
}

TEST_CASE("refraction of a wash: both binaries to round-off, every temperature", "[liquid][refraction][identity]") {
    Worst wort;
    Worst spirits;
    Worst water;
    for (double t = 10.0; t <= 40.0; t += 2.5) {
        for (int i = 0; i <= 70; ++i) wort.add(wash_refraction::index(0.0, i / percent, t) - sucrose_refraction::index(i / percent, t));
        for (int i = 0; i <= 100; ++i) spirits.add(wash_refraction::index(i / percent, 0.0, t) - spirit_refraction::index(i / percent, t));
        water.add(wash_refraction::index(0.0, 0.0, t) - iapws_r9::index(t));
    }
    CHECK(wort.value <= 1e-14);
    CHECK(spirits.value <= 1e-14);
    CHECK(water.value <= 1e-14);
    // Without a solute each formula is its water.
    CHECK(std::abs(sucrose_refraction::index(0.0, 20.0) - iapws_r9::index(20.0)) <= 1e-15);
    CHECK(std::abs(hydrolysate_refraction::index(0.0, 45.0) - iapws_r9::index(45.0)) <= 1e-15);
    CHECK(std::abs(glucose_refraction::index(0.0) - iapws_r9::index(20.0)) <= 1e-15);
}

TEST_CASE("refraction of a wash: other rules of mixing through the same binaries stay within the stated doubt", "[liquid][refraction]") {
    // Nothing measured was found; this is how far the choice of rule alone moves the result. Lorentz-Lorenz: (n2 - 1)/(n2 + 2) V adds up.
    const auto f = [](const double n) { return (n * n - 1.0) / (n * n + 2.0); };
    const auto lorentz = [&f](const double e, const double x) {
        const double water = f(iapws_r9::index(20.0)) * wash::water_specific_volume(e, x, 20.0);
        const double p = e / (1.0 - x);
        const double w = x / (1.0 - e);
        const double of_ethanol =
            (f(spirit_refraction::index(p, 20.0)) / oiml_r22::density(p, 20.0) - (1.0 - p) * f(iapws_r9::index(20.0)) / oiml_r22::raw_density(0.0, 20.0)) / p;
        const double of_sucrose =
            (f(sucrose_refraction::index(w, 20.0)) / icumsa_sps4::density(w, 20.0) - (1.0 - w) * f(iapws_r9::index(20.0)) / icumsa_sps4::water(20.0)) / w;
        const double q = ((1.0 - e - x) * water + e * of_ethanol + x * of_sucrose) * wash::density(e, x, 20.0);
        return std::sqrt((1.0 + 2.0 * q) / (1.0 - q));
    };
    const auto apart = [&](const double e, const double x) { return lorentz(e, x) - wash_refraction::index(e, x, 20.0); };
    CAPTURE(apart(0.08, 0.03), apart(0.08, 0.10), apart(0.12, 0.05));
    CHECK(std::abs(apart(0.08, 0.03)) <= 2e-5);
    CHECK(std::abs(apart(0.08, 0.03)) > 1e-5);
    CHECK(std::abs(apart(0.08, 0.10)) <= 5e-5);
    CHECK(std::abs(apart(0.12, 0.05)) <= wash_refraction::standard_uncertainty);
    CHECK(std::abs(apart(1e-6, 0.10)) <= 1e-8);  // towards a binary the rules agree
    CHECK(std::abs(apart(0.10, 1e-6)) <= 1e-8);
}

TEST_CASE("refraction: every inverse is exact, and every index rises with its solute", "[liquid][refraction][identity]") {
    Worst sugars;
    Worst syrup;
    Worst spirits;
    Worst dextrose;
    bool rising = true;
    const auto rises = [&rising](const double now, const double before, const int i) { rising = rising && (i == 0 || now > before); };
    for (const double t : {10.0, 15.0, 20.0, 25.0, 33.0, 40.0}) {
        double before = 0.0;
        for (int i = 0; i <= 700; ++i) {
            const double w = std::min(i / 1000.0, 0.70);
            const double n = sucrose_refraction::index(w, t);
            sugars.add(sucrose_refraction::extract_from_index(n, t) - w);
            rises(n, before, i);
            before = n;
        }
        for (int i = 0; i <= 740; ++i) {
            const double p = i / 1000.0;
            spirits.add(spirit_refraction::abw_from_index(spirit_refraction::index(p, t), t) - p);
        }
    }
    for (const double t : {20.0, 30.0, 45.0, 60.0}) {
        double before = 0.0;
        for (int i = 0; i <= 660; ++i) {
            const double w = i / 1000.0;
            const double n = hydrolysate_refraction::index(w, t);
            syrup.add(hydrolysate_refraction::extract_from_index(n, t) - w);
            rises(n, before, i);
            before = n;
        }
    }
    double before = 0.0;
    for (int i = 0; i <= 600; ++i) {
        const double n = glucose_refraction::index(i / 1000.0);
        dextrose.add(glucose_refraction::extract_from_index(n) - i / 1000.0);
        rises(n, before, i);
        before = n;
    }
    CHECK(sugars.value <= round_trip);
    CHECK(syrup.value <= round_trip);
    CHECK(dextrose.value <= round_trip);
    CHECK(spirits.value <= round_trip);
    CHECK(rising);
}

TEST_CASE("refraction of a wash: both inverses over their ranges", "[liquid][refraction][identity]") {
    Worst found_extract;
    Worst found_ethanol;
    bool rising = true;
    for (const double t : {10.0, 20.0, 40.0}) {
        for (int i = 0; i <= 15; ++i) {
            for (int k = 0; k <= 14; ++k) {
                const double e = 0.05 * i;
                const double x = (1.0 - e) * 0.05 * k * (1.0 - 1e-9);
                found_extract.add(wash_refraction::extract_from_index(wash_refraction::index(e, x, t), e, t) - x);
                const double x2 = 0.4 * k / 14.0;
                const double e2 = (1.0 - x2) * 0.5 * i / 15.0 * (1.0 - 1e-9);
                const double n2 = wash_refraction::index(e2, x2, t);
                found_ethanol.add(wash_refraction::abw_from_index(n2, x2, t) - e2);
                if (i > 0) rising = rising && n2 > wash_refraction::index((1.0 - x2) * 0.5 * (i - 1) / 15.0, x2, t);
                if (k > 0) rising = rising && n2 > wash_refraction::index(e2, 0.4 * (k - 1) / 14.0, t);
            }
        }
    }
    CHECK(found_extract.value <= round_trip);
    CHECK(found_ethanol.value <= round_trip);
    CHECK(rising);
    const extract<> x = wash_extract_from_refractive_index(washed(8.0, 3.0, 22.0), 8.0 * percent_mass, 22.0 * degree_celsius);
    CHECK(std::abs(value_in(x, degree_plato) - 3.0) <= percent * round_trip);
    const abw<> e = wash_abw_from_refractive_index(washed(8.0, 3.0, 22.0), 3.0 * degree_plato, 22.0 * degree_celsius);
    CHECK(std::abs(value_in(e, percent_mass) - 8.0) <= percent * round_trip);
}

TEST_CASE("refraction: slopes are those of the index", "[liquid][refraction][derivative]") {
    Worst worst;
    for (int i = 1; i <= 65; ++i) {
        const double w = i / percent;
        for (const double t : {10.0, 20.0, 40.0}) {
            worst.add(sucrose_refraction::index_and_slope(w, t).slope - central_difference([t](const double y) { return sucrose_refraction::index(y, t); }, w));
            worst.add(spirit_refraction::index_and_slope(w, t).slope - central_difference([t](const double y) { return spirit_refraction::index(y, t); }, w));
        }
        if (i < 60)
            worst.add(glucose_refraction::index_and_slope(w).slope - central_difference([](const double y) { return glucose_refraction::index(y); }, w));
        worst.add(hydrolysate_refraction::index_and_slope(w, 45.0).slope -
                  central_difference([](const double y) { return hydrolysate_refraction::index(y, 45.0); }, w));
    }
    CHECK(worst.value <= 1e-9);  // of about 0.15
}

TEST_CASE("refraction: both ends belong to the range, the next number beyond does not", "[liquid][refraction][edges]") {
    CHECK(std::isfinite(sucrose_refraction::index(0.70, 10.0)));
    CHECK(std::isfinite(sucrose_refraction::index(-0.0, 40.0)));
    CHECK(std::isfinite(hydrolysate_refraction::index(0.66, 60.0)));
    CHECK(std::isfinite(glucose_refraction::index(0.60)));
    CHECK(std::isfinite(spirit_refraction::index(1.0, 40.0)));
    CHECK(std::isfinite(wash_refraction::index(1.0, 0.0, 10.0)));
    CHECK(std::isfinite(iapws_r9::index(0.0)));
    CHECK(std::isfinite(iapws_r9::index(60.0)));
    for (const double t : {below(10.0), above(40.0), infinity, -infinity, not_a_number}) {
        CAPTURE(t);
        CHECK(std::isnan(sucrose_refraction::index(0.1, t)));
        CHECK(std::isnan(sucrose_refraction::extract_from_index(1.35, t)));
        CHECK(std::isnan(spirit_refraction::index(0.1, t)));
        CHECK(std::isnan(spirit_refraction::abw_from_index(1.34, t)));
        CHECK(std::isnan(wash_refraction::index(0.1, 0.1, t)));
        CHECK(std::isnan(wash_refraction::extract_from_index(1.35, 0.1, t)));
        CHECK(std::isnan(wash_refraction::abw_from_index(1.35, 0.1, t)));
    }
    for (const double w : {below(0.0), above(sucrose_refraction::extract_range.upper), 1.5, infinity, -infinity, not_a_number}) {
        CAPTURE(w);
        CHECK(std::isnan(sucrose_refraction::index(w, 20.0)));
        CHECK(std::isnan(hydrolysate_refraction::index(w, 20.0)));
        CHECK(std::isnan(glucose_refraction::index(w)));
        CHECK(std::isnan(wash_refraction::index(0.0, w, 20.0)));
    }
    for (const double t : {below(20.0), above(60.0), not_a_number}) {
        CHECK(std::isnan(hydrolysate_refraction::index(0.1, t)));
        CHECK(std::isnan(hydrolysate_refraction::extract_from_index(1.35, t)));
    }
    CHECK(std::isnan(spirit_refraction::index(above(1.0), 20.0)));
    CHECK(std::isnan(wash_refraction::index(0.5, 0.4, 20.0)));  // 80 % of the ethanol-free part
    CHECK(std::isnan(iapws_r9::index(below(0.0))));
    CHECK(std::isnan(iapws_r9::index(above(60.0))));
    // The inverses: both ends, and nothing beyond.
    CHECK(sucrose_refraction::extract_from_index(sucrose_refraction::index(0.0, 20.0), 20.0) == 0.0);
    CHECK(std::abs(sucrose_refraction::extract_from_index(sucrose_refraction::index(0.70, 20.0), 20.0) - 0.70) <= round_trip);
    CHECK(std::isnan(sucrose_refraction::extract_from_index(1.33, 20.0)));
    CHECK(std::isnan(sucrose_refraction::extract_from_index(1.5, 20.0)));
    CHECK(std::isnan(hydrolysate_refraction::from_sucrose_scale(0.71)));
    CHECK(std::isnan(wash_refraction::extract_from_index(1.35, above(0.7500001), 20.0)));
    CHECK(std::isnan(wash_refraction::abw_from_index(1.41, 0.41, 20.0)));
}

TEST_CASE("refraction: NaN in, NaN out", "[liquid][refraction][edges]") {
    CHECK(std::isnan(sucrose(not_a_number, 20.0)));
    CHECK(std::isnan(sucrose(10.0, not_a_number)));
    CHECK(std::isnan(brix(not_a_number, 20.0)));
    CHECK(std::isnan(brix(1.35, not_a_number)));
    CHECK(std::isnan(glucose(not_a_number)));
    CHECK(std::isnan(glucose_from_refractive_index(not_a_number).value()));
    CHECK(std::isnan(hydrolysate(not_a_number, 20.0)));
    CHECK(std::isnan(hydrolysate_from_refractive_index(not_a_number, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(hydrolysate_from_brix(not_a_number * degree_plato).value()));
    CHECK(std::isnan(spirit(not_a_number, 20.0)));
    CHECK(std::isnan(abw_from_refractive_index(not_a_number, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(washed(not_a_number, 3.0, 20.0)));
    CHECK(std::isnan(washed(3.0, not_a_number, 20.0)));
    CHECK(std::isnan(washed(3.0, 3.0, not_a_number)));
    CHECK(std::isnan(wash_extract_from_refractive_index(not_a_number, 8.0 * percent_mass, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(wash_abw_from_refractive_index(not_a_number, 3.0 * degree_plato, 20.0 * degree_celsius).value()));
    CHECK(std::isnan(water_refractive_index(not_a_number * degree_celsius)));
}

TEST_CASE("refraction: the errors name quantity, value, unit and range", "[liquid][refraction][edges]") {
    check_refused([] { water_refractive_index(61.0 * degree_celsius); }, "temperature 61 degC is outside 0 to 60 degC (IAPWS R9-97");
    check_refused([] { sucrose(70.5, 20.0); }, "extract 70.5 % mass is outside 0 to 70 % mass (fit to OIV-MA-AS2-02");
    check_refused([] { sucrose(12.0, 41.0); }, "temperature 41 degC is outside 10 to 40 degC (fit to OIV-MA-AS2-02");
    check_refused([] { brix(1.33, 20.0); }, "refractive index 1.33 is outside 1.33298");
    check_refused([] { brix(1.35, 9.0); }, "temperature 9 degC is outside 10 to 40 degC");
    check_refused([] { glucose(61.0); }, "extract 61 % mass is outside 0 to 60 % mass (CRC Handbook");
    check_refused([] { glucose_from_refractive_index(1.5); }, "refractive index 1.5 is outside 1.33298");
    check_refused([] { hydrolysate(67.0, 20.0); }, "dry matter 67 % mass is outside 0 to 66 % mass (ISO 1743");
    check_refused([] { hydrolysate(10.0, 15.0); }, "temperature 15 degC is outside 20 to 60 degC (ISO 1743");
    check_refused([] { hydrolysate_from_refractive_index(1.5, 20.0 * degree_celsius); }, "refractive index 1.5 is outside 1.33298");
    check_refused([] { hydrolysate_from_brix(69.9 * degree_plato); }, "brix 69.9 % mass is outside 0 to 6");
    check_refused([] { spirit(101.0, 20.0); }, "abw 101 % mass is outside 0 to 100 % mass (fit to CRC Handbook");
    check_refused([] { spirit(10.0, 5.0); }, "temperature 5 degC is outside 10 to 40 degC");
    check_refused([] { washed(101.0, 0.0, 20.0); }, "abw 101 % mass is outside 0 to 100 % mass");
    check_refused([] { washed(50.0, 40.0, 20.0); }, "extract 40 % mass is outside 0 to 35 % mass");
    check_refused([] { washed(5.0, 3.0, 5.0); }, "temperature 5 degC is outside 10 to 40 degC (additive refractivity");
    check_refused([] { wash_extract_from_refractive_index(1.333, 8.0 * percent_mass, 20.0 * degree_celsius); }, "refractive index 1.333 is outside 1.338");
    check_refused([] { wash_extract_from_refractive_index(1.36, 80.0 * percent_mass, 20.0 * degree_celsius); }, "abw 80 % mass is outside 0 to 75 % mass");
    check_refused([] { wash_abw_from_refractive_index(1.333, 3.0 * degree_plato, 20.0 * degree_celsius); }, "refractive index 1.333 is outside 1.337");
    check_refused([] { wash_abw_from_refractive_index(1.36, 45.0 * degree_plato, 20.0 * degree_celsius); }, "extract 45 % mass is outside 0 to 40 % mass");
}

TEST_CASE("refraction: eight lanes give what eight scalars give", "[liquid][refraction][lanes]") {
    const Eight w{0.0, 0.05, 0.12, 0.30, 0.70, -0.01, 0.71, not_a_number};
    const Eight e{0.05, 0.10, 0.12, 0.30, 0.20, 0.01, 0.71, 0.1};
    const Eight t{10.0, 40.0, 20.0, 35.0, 15.0, 20.0, 20.0, 20.0};
    const Eight n{1.334, 1.35, 1.36, 1.40, 1.44, 1.30, 1.55, not_a_number};
    check_lanes([](const auto& x, const auto& y) { return sucrose_refraction::index(x, y); }, w, t);
    check_lanes([](const auto& x, const auto& y) { return sucrose_refraction::extract_from_index(x, y); }, n, t);
    check_lanes([](const auto& x, const auto& y) { return hydrolysate_refraction::index(x, y); }, w, t);
    check_lanes([](const auto& x) { return glucose_refraction::index(x); }, w);
    check_lanes([](const auto& x, const auto& y) { return spirit_refraction::index(x, y); }, w, t);
    check_lanes([](const auto& x, const auto& y) { return spirit_refraction::abw_from_index(x, y); }, n, t);
    check_lanes([](const auto& x, const auto& y, const auto& z) { return wash_refraction::index(x, y, z); }, e, w, t);
    check_lanes([](const auto& x, const auto& y, const auto& z) { return wash_refraction::extract_from_index(x, y, z); }, n, e, t);
}

TEST_CASE("refraction: doubt goes through index and inverse", "[liquid][refraction][uncertain]") {
    const Uncertain x = Uncertain::input(0.03, 0.001, "extract");
    const Uncertain e = Uncertain::input(0.08, 0.002, "ethanol");
    const Uncertain t = Uncertain::input(22.0, 0.5, "temperature");
    const Uncertain n = wash_refraction::index(e, x, t);
    const auto plain = [](const double ethanol, const double extract_by_mass, const double at) { return wash_refraction::index(ethanol, extract_by_mass, at); };
    CHECK(n.value() == plain(0.08, 0.03, 22.0));
    const double by_extract = 0.001 * central_difference([&](const double y) { return plain(0.08, y, 22.0); }, 0.03);
    const double by_ethanol = 0.002 * central_difference([&](const double y) { return plain(y, 0.03, 22.0); }, 0.08);
    const double by_temperature = 0.5 * central_difference([&](const double y) { return plain(0.08, 0.03, y); }, 22.0);
    CHECK(std::abs(n.standard_uncertainty() / std::sqrt(by_extract * by_extract + by_ethanol * by_ethanol + by_temperature * by_temperature) - 1.0) <= 1e-6);
    // There and back: the doubt of the extract alone is left.
    const Uncertain back = wash_refraction::extract_from_index(n, e, t);
    CHECK(std::abs(back.value() - 0.03) <= round_trip);
    CHECK(std::abs(back.standard_uncertainty() - 0.001) <= 1e-8);
    CHECK(std::abs(correlation(back, x) - 1.0) <= 1e-8);
    const Uncertain ethanol = wash_refraction::abw_from_index(n, x, t);
    CHECK(std::abs(ethanol.standard_uncertainty() - 0.002) <= 1e-8);
    const Uncertain shown = sucrose_refraction::extract_from_index(Uncertain::input(1.35, 1e-4, "index"), Uncertain(20.0));
    CHECK(std::abs(shown.standard_uncertainty() * sucrose_refraction::index_and_slope(shown.value(), 20.0).slope - 1e-4) <= 1e-10);
    CHECK(std::isnan(sucrose_refraction::extract_from_index(Uncertain(1.30), Uncertain(20.0)).value()));
}
