// Jars that a run fills: balance, volumes, what lies between the points of a curve, the end of a run, errors.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/still/jars.hpp>
#include <string>
#include <vector>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double conserved = 1e-12;  // relative

bool close(const double a, const double b, const double relative = conserved) {
    return std::abs(a - b) <= relative * std::abs(b);
}
Stripping spirit_run(const std::size_t points = 51) {
    return strip(still_liquid(40.0 * litre, 28.0 * percent_vol, 0.0 * degree_plato), 101.325 * kilopascal, StripStop::distillate_abv(5.0 * percent_vol),
                 points);
}
ColumnRun column_run(const TakeOff& how, const int points = 41) {
    ColumnStop stop;
    stop.recovered_share = 0.9;
    return rectify({50.0, 0.25}, {8, 0.5}, {3.0, 0.0, 0.5}, how, stop, 101.325 * kilopascal, points);
}
/// Everything there is in jars and rest.
double all(const FilledJars& filled, double FilledJar::*const figure) {
    double sum = filled.rest.*figure;
    for (const FilledJar& jar : filled.jars) sum += jar.*figure;
    return sum;
}
template <class Run>
void check_balance(const Run& run, const FilledJars& filled, const double mass_kg, const double ethanol_kg) {
    CHECK(close(filled.mass_kg, mass_kg));
    CHECK(close(filled.ethanol_kg, ethanol_kg));
    CHECK(close(all(filled, &FilledJar::mass_kg), mass_kg));
    CHECK(close(all(filled, &FilledJar::ethanol_kg), ethanol_kg));
    CHECK(close(all(filled, &FilledJar::alcohol_share), 1.0));
    double from_kg = 0.0;
    for (const FilledJar& jar : filled.jars) {
        CAPTURE(jar.from_kg, jar.abv);
        CHECK(jar.from_kg == from_kg);
        from_kg = jar.to_kg;
        CHECK(close(jar.mass_kg, jar.to_kg - jar.from_kg));
        CHECK(close(jar.filled_l, 1000.0 * jar.mass_kg / oiml_r22::density(jar.abw, jar.temperature_c)));
        CHECK(close(jar.abv, volume_at_20c::from_abw(jar.abw)));
        CHECK(jar.abv <= jar.from_abv + conserved);
        CHECK(jar.abv >= jar.to_abv - conserved);
    }
    CHECK(filled.cautions == run.cautions);
}

}  // namespace

TEST_CASE("jars: filled to the mark, and mass and ethanol close to the run", "[still][jars]") {
    const Stripping run = spirit_run();
    const std::vector<double> sizes{0.1, 0.5, 0.5, 1.0, 1.0, 2.0, 0.001};
    for (const double t : {0.0, 14.0, 20.0, 40.0}) {
        CAPTURE(t);
        const FilledJars filled = fill_jars(run, sizes, t * degree_celsius);
        check_balance(run, filled, run.low_wines.mass_kg, run.low_wines.ethanol_kg());
        REQUIRE(filled.jars.size() == sizes.size());
        CHECK(filled.unused == 0);
        for (std::size_t k = 0; k < sizes.size(); ++k) {
            CHECK(filled.jars[k].size_l == sizes[k]);
            CHECK(close(filled.jars[k].filled_l, sizes[k], 1e-11));
        }
        CHECK(filled.rest.from_kg == filled.jars.back().to_kg);
        CHECK(filled.rest.to_kg == run.low_wines.mass_kg);
        CHECK(filled.rest.size_l == filled.rest.filled_l);
    }
    // A warm jar holds less; spirit that is poured together shrinks, so that volumes at 20 degC add up to more than the run.
    CHECK(fill_jars(run, sizes, 30.0 * degree_celsius).jars[3].mass_kg < fill_jars(run, sizes, 10.0 * degree_celsius).jars[3].mass_kg);
    CHECK(all(fill_jars(run, sizes), &FilledJar::volume_20c_l) > run.low_wines_l);
    CHECK(all(fill_jars(run, sizes), &FilledJar::volume_20c_l) < 1.02 * run.low_wines_l);
}

TEST_CASE("jars: of a column, at constant reflux, strength and rate", "[still][jars]") {
    for (const TakeOff& how : {TakeOff::at_reflux(3.0), TakeOff::at_strength(0.90, 12.0), TakeOff::at_rate(1.0)}) {
        const ColumnRun run = column_run(how);
        const FilledJars filled = fill_jars(run, 0.75 * litre);
        CAPTURE(static_cast<int>(how.mode), filled.jars.size());
        CHECK(filled.jars.size() > 5);
        check_balance(run, filled, run.distillate_kg, run.distillate_ethanol_kg);
    }
    // What is held constant is so in every jar.
    const FilledJars held = fill_jars(column_run(TakeOff::at_strength(0.90, 12.0)), 0.75 * litre);
    for (const FilledJar& jar : held.jars) CHECK(std::abs(jar.abv - 0.90) <= 1e-9);
}

TEST_CASE("jars: between the points of the curve the run is followed", "[still][jars]") {
    // Against the run itself, ended where each jar is full.
    const StillLiquid charge = still_liquid(40.0 * litre, 28.0 * percent_vol, 0.0 * degree_plato);
    double worst_of_51 = 0.0;
    double worst_of_201 = 0.0;
    for (const std::size_t points : {std::size_t{51}, std::size_t{201}}) {
        const Stripping run = spirit_run(points);
        const std::vector<double> sizes{0.3, 0.7, 1.0, 2.0, 2.0, 2.0, 2.0};
        const FilledJars filled = fill_jars(run, sizes);
        REQUIRE(filled.jars.size() == sizes.size());
        double& worst = points == 51 ? worst_of_51 : worst_of_201;
        for (const FilledJar& jar : filled.jars) {
            const double with = detail::jar_curve_of(run).ethanol_with(jar.to_kg);
            const double litres = jar.to_kg / volume_at_20c::density(with / jar.to_kg) * 1000.0;
            const Stripping until = strip(charge, 101.325 * kilopascal, StripStop::collected(litres * litre), 2);
            worst = std::max(worst, std::abs(until.low_wines.ethanol_kg() - with) / run.low_wines.ethanol_kg());
            CHECK(std::abs(until.curve.back().distillate_abv - jar.to_abv) <= 1e-6);
        }
    }
    CAPTURE(worst_of_51, worst_of_201);
    CHECK(worst_of_51 <= 1e-8);
    CHECK(worst_of_201 <= 0.02 * worst_of_51);  // it converges
}

TEST_CASE("jars: no strength is made up that is not between the points", "[still][jars]") {
    // Held, then suddenly over: a cubic through these points would overshoot.
    using Points = std::vector<detail::jar_curve_point>;
    const Points sudden{{0.0, 0.0, 0.9}, {1.0, 0.9, 0.9}, {2.0, 1.78, 0.1}, {3.0, 1.8, 0.01}, {4.0, 1.82, 0.0}};
    const detail::jar_curve curve(sudden);
    double before = -1.0;
    for (int i = 0; i <= 4000; ++i) {
        const double kg = 0.001 * i;
        const auto cell = std::min<std::size_t>(static_cast<std::size_t>(kg), 3);
        const double high = std::max(sudden[cell].abw, sudden[cell + 1].abw);
        const double low = std::min(sudden[cell].abw, sudden[cell + 1].abw);
        const double mean = sudden[cell + 1].ethanol_kg - sudden[cell].ethanol_kg;
        CAPTURE(kg, curve.strength_at(kg));
        CHECK(curve.strength_at(kg) <= std::max(high, mean) + 1e-12);
        CHECK(curve.strength_at(kg) >= std::min(low, mean) - 1e-12);
        CHECK(curve.ethanol_with(kg) >= before - 1e-15);
        before = curve.ethanol_with(kg);
    }
    for (const detail::jar_curve_point& p : sudden) CHECK(std::abs(curve.ethanol_with(p.kg) - p.ethanol_kg) <= 1e-15);
    // Strength and ethanol belong together.
    for (const double kg : {0.3, 1.2, 1.7, 2.4, 3.6}) {
        constexpr double h = 1e-5;
        CHECK(std::abs((curve.ethanol_with(kg + h) - curve.ethanol_with(kg - h)) / (2.0 * h) - curve.strength_at(kg)) <= 1e-6);
    }
}

TEST_CASE("jars: the end of the run", "[still][jars]") {
    const Stripping run = spirit_run();
    SECTION("one size: as many as it fills, the last not full, no rest") {
        const FilledJars filled = fill_jars(run, 1.0 * litre);
        check_balance(run, filled, run.low_wines.mass_kg, run.low_wines.ethanol_kg());
        for (std::size_t k = 0; k + 1 < filled.jars.size(); ++k) CHECK(close(filled.jars[k].filled_l, 1.0, 1e-11));
        CHECK(filled.jars.back().filled_l < 1.0);
        CHECK(filled.jars.back().size_l == 1.0);
        CHECK(filled.jars.back().to_kg == run.low_wines.mass_kg);
        CHECK(filled.unused == 0);
        CHECK(filled.rest.mass_kg == 0.0);
        CHECK(filled.rest.ethanol_kg == 0.0);
        CHECK(filled.rest.volume_20c_l == 0.0);
        CHECK(std::isnan(filled.rest.abv));
    }
    SECTION("more jars than the run fills") {
        const FilledJars filled = fill_jars(run, std::vector<double>(100, 1.0));
        CHECK(filled.jars.size() + filled.unused == 100);
        CHECK(filled.unused > 50);
        CHECK(filled.jars.size() == fill_jars(run, 1.0 * litre).jars.size());
    }
    SECTION("a jar that the run just fills leaves no drop") {
        const FilledJars filled = fill_jars(run, std::vector<double>{run.low_wines_l, 1.0});
        REQUIRE(filled.jars.size() == 1);
        CHECK(filled.unused == 1);
        CHECK(close(filled.jars[0].abv, run.low_wines_abv));
        CHECK(filled.rest.mass_kg == 0.0);
    }
    SECTION("water alone") {
        const Stripping water =
            strip(still_liquid(10.0 * litre, 0.0 * percent_vol, 0.0 * degree_plato), 101.325 * kilopascal, StripStop::collected(4.0 * litre));
        const FilledJars filled = fill_jars(water, 1.0 * litre);
        CHECK(filled.jars.size() == 4);
        for (const FilledJar& jar : filled.jars) CHECK(jar.abv == 0.0);
        CHECK(std::isnan(filled.jars[0].alcohol_share));
    }
    SECTION("a run to the last of the alcohol") {
        const Stripping dry = strip(still_liquid(40.0 * litre, 8.0 * percent_vol, 2.0 * degree_plato), 101.325 * kilopascal, StripStop::recovered(0.999999));
        const FilledJars filled = fill_jars(dry, 0.25 * litre);
        check_balance(dry, filled, dry.low_wines.mass_kg, dry.low_wines.ethanol_kg());
    }
}

TEST_CASE("jars: as jars of the cuts they hold the same", "[still][jars]") {
    const Stripping run = spirit_run();
    const FilledJars filled = fill_jars(run, 0.8 * litre, 12.0 * degree_celsius);
    std::vector<Jar> jars;
    for (const FilledJar& jar : filled.jars) jars.push_back(jar.as_jar(jars.empty() ? cut_label::fore_shots : cut_label::hearts));
    const Cuts cuts = work_out_cuts(jars);
    CHECK(close(cuts.total.mass_kg, run.low_wines.mass_kg, 1e-11));
    CHECK(close(cuts.total.ethanol_kg, run.low_wines.ethanol_kg(), 1e-11));
    CHECK(close(cuts.jars[3].volume_20c_l, filled.jars[3].volume_20c_l, 1e-11));
    CHECK(cuts.never_back == std::vector<std::size_t>{0});
    CHECK(filled.jars[2].as_jar().label == cut_label::none);
}

TEST_CASE("jars: errors by name", "[still][jars]") {
    const Stripping run = spirit_run();
    const auto sized = [&](const std::vector<double>& sizes, const double t = 20.0) {
        return error_text([&] { (void)fill_jars(run, sizes, t * degree_celsius); });
    };
    const auto alike = [&](const double size) { return error_text([&] { (void)fill_jars(run, size * litre); }); };
    CHECK(begins(sized({1.0, 0.0}), "size of jar 2 0 L must be more than zero"));
    CHECK(begins(sized({-1.0}), "size of jar 1 -1 L is below the lowest allowed, 0 L"));
    CHECK(begins(sized({not_a_number}), "size of jar 1 is not a number"));
    CHECK(begins(sized({infinity}), "size of jar 1 is infinite"));
    CHECK(begins(sized({}), "jars: no size given"));
    CHECK(begins(sized({1.0}, 40.5), "temperature of collection 40.5 degC is outside 0 to 40 degC"));
    CHECK(begins(sized({1.0}, -0.5), "temperature of collection -0.5 degC is outside"));
    CHECK(begins(sized({1.0}, not_a_number), "temperature of collection is not a number"));
    CHECK(begins(alike(0.0), "size of the jars 0 L must be more than zero"));
    CHECK(begins(alike(not_a_number), "size of the jars is not a number"));
    CHECK(begins(alike(1e-9), "size of the jars 1e-09 L is too small"));
    Stripping nothing = strip(run.charge, 101.325 * kilopascal, StripStop::collected(0.0 * litre));
    CHECK(begins(error_text([&] { (void)fill_jars(nothing, 1.0 * litre); }), "jars: nothing came over in this run"));
    nothing.curve.clear();
    CHECK(begins(error_text([&] { (void)fill_jars(nothing, 1.0 * litre); }), "jars: the run has no curve"));
    Stripping broken = run;
    broken.curve[7].collected_kg = 0.0;
    CHECK(begins(error_text([&] { (void)fill_jars(broken, 1.0 * litre); }), "jars: the curve of the run must hold numbers, and what has come over must rise"));
    broken.curve[7].collected_kg = not_a_number;
    CHECK(begins(error_text([&] { (void)fill_jars(broken, 1.0 * litre); }), "jars: the curve of the run must hold numbers"));
    broken = run;
    broken.curve.erase(broken.curve.begin());
    CHECK(begins(error_text([&] { (void)fill_jars(broken, 1.0 * litre); }), "jars: the curve of the run must begin at the first drop"));
}
