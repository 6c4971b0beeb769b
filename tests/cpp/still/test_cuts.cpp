// Jars: masses, curves, fractions, blends and their doubt; what must never be mixed; errors.

#include <cmath>
#include <cstddef>
#include <ferment/still/cuts.hpp>
#include <limits>
#include <string>
#include <vector>

#include "catch.hpp"
#include "liquid/checks.hpp"

using namespace ferment;
using ferment_test::error_text;

namespace {

constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
constexpr double ethanol_kg_per_l = volume_at_20c::ethanol_density / 1000.0;

std::vector<Jar> one_run() {
    return {{0.15, 22.0, 0.785, cut_label::fore_shots, "glue"},
            {0.5, 22.0, 0.775, cut_label::heads},
            {1.0, 21.0, 0.752, cut_label::hearts},
            {1.0, 21.0, 0.731, cut_label::hearts},
            {1.0, 20.5, 0.695, cut_label::hearts},
            {0.8, 20.0, 0.62, cut_label::none},
            {1.0, 20.0, 0.48, cut_label::tails, "wet dog"},
            {1.0, 19.0, 0.27, cut_label::tails}};
}

using Indices = std::vector<std::size_t>;

bool mentions(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("cuts: one jar at 20 degC is its volume times its strength") {
    const Cuts cuts = work_out_cuts(std::vector<Jar>{{1.25, 20.0, 0.64, cut_label::hearts}});
    REQUIRE(cuts.jars.size() == 1);
    CHECK(std::abs(cuts.jars[0].ethanol_kg - 1.25 * 0.64 * ethanol_kg_per_l) <= 1e-12);
    CHECK(std::abs(cuts.jars[0].pure_alcohol_l.value() - 0.8) <= 1e-12);
    CHECK(std::abs(cuts.jars[0].volume_20c_l - 1.25) <= 1e-12);
    CHECK(std::abs(cuts.jars[0].cumulative_abv - 0.64) <= 1e-12);
}

TEST_CASE("cuts: a warm jar weighs less and holds less") {
    const Jar warm{1.0, 30.0, 0.70};
    const double w = volume_at_20c::to_abw(0.70);
    const double shrunk = oiml_r22::density(w, 30.0) / oiml_r22::density(w, 20.0);
    const Cuts cuts = work_out_cuts(std::vector<Jar>{warm});
    CHECK(shrunk < 0.995);
    CHECK(std::abs(cuts.jars[0].volume_20c_l - shrunk) <= 1e-12);
    CHECK(std::abs(cuts.jars[0].pure_alcohol_l.value() - 0.70 * shrunk) <= 1e-12);
}

TEST_CASE("cuts: masses close over jars, labels and curves") {
    const std::vector<Jar> jars = one_run();
    const Cuts cuts = work_out_cuts(jars);
    REQUIRE(cuts.jars.size() == jars.size());
    double mass = 0.0, ethanol = 0.0, pure = 0.0, volumes = 0.0;
    for (const JarContent& jar : cuts.jars) {
        mass += jar.mass_kg;
        ethanol += jar.ethanol_kg;
        pure += jar.pure_alcohol_l.value();
        volumes += jar.volume_20c_l;
        CHECK(std::abs(jar.cumulative_mass_kg - mass) <= 1e-12);
        CHECK(std::abs(jar.cumulative_alcohol_l - pure) <= 1e-12);
        CHECK(std::abs(jar.cumulative_volume_l * jar.cumulative_abv - pure) <= 1e-12);
    }
    CHECK(cuts.jars.back().cumulative_volume_l < volumes);  // contraction
    double fraction_mass = 0.0, fraction_ethanol = 0.0, share = 0.0;
    std::size_t counted = 0;
    REQUIRE(cuts.fractions.size() == cut_labels.size());
    for (std::size_t k = 0; k < cut_labels.size(); ++k) {
        CHECK(cuts.fractions[k].label == cut_labels[k]);
        fraction_mass += cuts.fractions[k].content.mass_kg;
        fraction_ethanol += cuts.fractions[k].content.ethanol_kg;
        share += cuts.fractions[k].alcohol_share;
        counted += cuts.fractions[k].content.jars.size();
    }
    CHECK(counted == jars.size());
    CHECK(std::abs(fraction_mass - mass) <= 1e-12);
    CHECK(std::abs(fraction_ethanol - ethanol) <= 1e-12);
    CHECK(std::abs(share - 1.0) <= 1e-12);
    CHECK(std::abs(cuts.total.mass_kg - mass) <= 1e-12);
    CHECK(cuts.never_back == Indices{0});
}

TEST_CASE("cuts: a label without jars is empty, not zero strength") {
    const Cuts cuts = work_out_cuts(std::vector<Jar>{{1.0, 20.0, 0.6, cut_label::hearts}});
    const CutFraction& heads = cuts.fractions[1];
    CHECK(heads.content.jars.empty());
    CHECK(heads.content.mass_kg == 0.0);
    CHECK(heads.content.volume_20c_l == 0.0);
    CHECK(heads.alcohol_share == 0.0);
    CHECK(std::isnan(heads.content.abv));
    CHECK(cuts.never_back.empty());
}

TEST_CASE("cuts: blends") {
    const std::vector<Jar> jars = one_run();
    const CutBlend hearts = blend_jars(jars, Indices{2, 3, 4});
    const Cuts cuts = work_out_cuts(jars);
    CHECK(hearts.mass_kg == cuts.fractions[2].content.mass_kg);
    CHECK(hearts.abv == cuts.fractions[2].content.abv);
    CHECK(hearts.abv < 0.752);
    CHECK(hearts.abv > 0.695);
    // order does not matter
    CHECK(std::abs(blend_jars(jars, Indices{4, 2, 3}).abv - hearts.abv) <= 1e-14);
    // density of the blend from its strength and volume: the same mass
    CHECK(std::abs(hearts.volume_20c_l / 1000.0 * oiml_r22::density(volume_at_20c::to_abw(hearts.abv), 20.0) - hearts.mass_kg) <= 1e-12);

    // water and spirit contract, alcohol stays
    const CutBlend weak = blend_jars(std::vector<Jar>{{1.0, 20.0, 0.96}, {1.0, 20.0, 0.0}}, Indices{0, 1});
    CHECK(weak.volume_20c_l < 2.0);
    CHECK(std::abs(weak.abv * weak.volume_20c_l - 0.96) <= 1e-12);
}

TEST_CASE("cuts: published dilutions as two jars") {
    // State Pharmacopoeia of the USSR, XI ed.: volumes of water and of strong spirit, printed to 0.1 mL, that give one litre at 20 degC. Its water agrees
    // with OIML R 22 within 0.07 mL, 0.15 mL in the column of 70 % vol; the printed spirit adds half a digit. A water volume off by so much moves the strength
    // by no more than its share of the litre times the strength.
    constexpr double half_digit_l = 0.05e-3;
    int rows = 0;
    for (const ferment_test::Row& row : ferment_test::read_table("ethanol_water/pharmacopoeia_dilution_1L_20C.csv")) {
        if (row.has("flag")) continue;
        const double from = row.number("from_vol_percent") / 100.0, to = row.number("to_vol_percent") / 100.0;
        const double of_volume = half_digit_l + (to == 0.70 ? 0.15e-3 : 0.07e-3);
        const std::vector<Jar> jars{{row.number("alcohol_mL") / 1000.0, 20.0, from}, {row.number("water_mL") / 1000.0, 20.0, 0.0}};
        const CutBlend mixed = blend_jars(jars, Indices{0, 1});
        CAPTURE(row.line());
        CHECK(std::abs(mixed.volume_20c_l - 1.0) <= of_volume);
        CHECK(std::abs(mixed.abv - to) <= to * of_volume + from * half_digit_l);
        ++rows;
    }
    CHECK(rows > 30);
}

TEST_CASE("cuts: recycling takes heads and tails and leaves fore-shots") {
    const std::vector<Jar> jars = one_run();
    const CutBlend back = recycle_jars(jars);
    CHECK(back.jars == Indices{1, 6, 7});
    const Cuts cuts = work_out_cuts(jars);
    CHECK(std::abs(back.mass_kg - cuts.fractions[1].content.mass_kg - cuts.fractions[3].content.mass_kg) <= 1e-12);
    CHECK(recycle_jars(jars, std::vector<cut_label>{cut_label::tails, cut_label::tails}).jars == Indices{6, 7});
    CHECK_THROWS_AS(recycle_jars(jars, std::vector<cut_label>{cut_label::fore_shots, cut_label::tails}), InputError);
    CHECK_THROWS_AS(recycle_jars(jars, std::vector<cut_label>{}), InputError);
    CHECK_THROWS_AS(recycle_jars(std::vector<Jar>{{1.0, 20.0, 0.6, cut_label::hearts}}), InputError);
    CHECK_THROWS_AS(blend_jars(jars, Indices{0}), InputError);
    CHECK_THROWS_AS(blend_jars(jars, Indices{2, 0}), InputError);
    CHECK(mentions(error_text([&] { blend_jars(jars, Indices{2, 0}); }), "fore_shots"));
}

TEST_CASE("cuts: doubt of the pure alcohol") {
    SECTION("closed form at 20 degC") {
        Jar jar{1.2, 20.0, 0.65, cut_label::hearts, "", 0.02, 0.004};
        const Uncertain pure = work_out_cuts(std::vector<Jar>{jar}).jars[0].pure_alcohol_l;
        const double expected = std::hypot(0.65 * 0.02 * 1.2, 1.2 * 0.004);
        CHECK(std::abs(pure.standard_uncertainty() - expected) <= 1e-12);
        REQUIRE(pure.budget().size() == 2);
        CHECK(pure.budget()[0].name == "volume of jar 1");
        jar.relative_volume_uncertainty = 0.0;
        jar.abv_uncertainty = 0.0;
        CHECK(work_out_cuts(std::vector<Jar>{jar}).jars[0].pure_alcohol_l.standard_uncertainty() == 0.0);
    }
    SECTION("against differences at another temperature") {
        const Jar jar{1.2, 33.0, 0.65, cut_label::hearts, "", 0.0, 0.004};
        const auto pure = [&](const double q) {
            Jar other = jar;
            other.abv = q;
            return work_out_cuts(std::vector<Jar>{other}).jars[0].pure_alcohol_l.value();
        };
        const double slope = (pure(0.65 + 1e-5) - pure(0.65 - 1e-5)) / 2e-5;
        CHECK(std::abs(work_out_cuts(std::vector<Jar>{jar}).jars[0].pure_alcohol_l.standard_uncertainty() - 0.004 * slope) <= 1e-9);
    }
    SECTION("jars are independent") {
        const std::vector<Jar> jars = one_run();
        const Cuts cuts = work_out_cuts(jars);
        double squares = 0.0;
        for (const JarContent& jar : cuts.jars) squares += jar.pure_alcohol_l.standard_uncertainty() * jar.pure_alcohol_l.standard_uncertainty();
        CHECK(std::abs(cuts.total.pure_alcohol_l.standard_uncertainty() - std::sqrt(squares)) <= 1e-12);
        CHECK(std::abs(cuts.total.pure_alcohol_l.value() - cuts.jars.back().cumulative_alcohol_l) <= 1e-12);
    }
}

TEST_CASE("cuts: limits of strength") {
    const Cuts cuts = work_out_cuts(std::vector<Jar>{{1.0, 20.0, 0.0}, {1.0, 20.0, 0.97}, {1.0, 20.0, 97.0 * 0.01}});
    CHECK(cuts.jars[0].ethanol_kg == 0.0);
    CHECK(std::abs(cuts.jars[0].mass_kg - oiml_r22::density(0.0, 20.0) / 1000.0) <= 1e-15);
    CHECK(std::abs(cuts.jars[0].pure_alcohol_l.standard_uncertainty() - 0.005) <= 1e-12);  // volume of water is not in doubt for its alcohol
    CHECK(std::abs(cuts.jars[1].pure_alcohol_l.value() - 0.97) <= 1e-12);
    CHECK_THROWS_AS(work_out_cuts(std::vector<Jar>{{1.0, 20.0, 0.971}}), RangeError);
    CHECK(mentions(error_text([] { work_out_cuts(std::vector<Jar>{{1.0, 20.0, 0.971}}); }), "97.1 % vol is outside 0 to 97 % vol"));
    // the azeotrope itself is not reached: 0.8943 mol/mol, Perry table 13-1
    const double w = 0.8943 * 46.069 / (0.8943 * 46.069 + 0.1057 * 18.015);
    CHECK(volume_at_20c::from_abw(w) > strongest_distillate_abv);
    CHECK(volume_at_20c::from_abw(w) < strongest_distillate_abv + 0.005);
}

TEST_CASE("cuts: labels by name") {
    for (const cut_label label : cut_labels) CHECK(cut_label_from(to_string(label)) == label);
    CHECK_THROWS_AS(cut_label_from("middle"), InputError);
    CHECK(mentions(error_text([] { cut_label_from("middle"); }), "fore_shots, heads, hearts, tails, none"));
}

TEST_CASE("cuts: errors and NaN") {
    const auto of = [](const Jar& jar) { return work_out_cuts(std::vector<Jar>{jar}); };
    CHECK_THROWS_AS(work_out_cuts(std::vector<Jar>{}), InputError);
    CHECK_THROWS_AS(of({-1.0, 20.0, 0.6}), RangeError);
    CHECK_THROWS_AS(of({0.0, 20.0, 0.6}), RangeError);
    CHECK_THROWS_AS(of({std::numeric_limits<double>::infinity(), 20.0, 0.6}), RangeError);
    CHECK_THROWS_AS(of({1.0, 20.0, -0.01}), RangeError);
    CHECK_THROWS_AS(of({1.0, 60.0, 0.6}), RangeError);
    CHECK_THROWS_AS(of({1.0, -15.0, 0.1}), RangeError);  // frozen
    CHECK_THROWS_AS(of({1.0, 20.0, 0.6, cut_label::none, "", -0.1, 0.0}), RangeError);
    CHECK_THROWS_AS(of({1.0, 20.0, 0.6, cut_label::none, "", 0.1, -0.1}), RangeError);
    CHECK(mentions(error_text([&] { of({-1.0, 20.0, 0.6}); }), "volume of jar 1 -1 L"));
    CHECK(std::isnan(of({no_number, 20.0, 0.6}).jars[0].mass_kg));
    CHECK(std::isnan(of({1.0, 20.0, no_number}).jars[0].pure_alcohol_l.value()));
    CHECK(std::isnan(of({1.0, no_number, 0.6}).jars[0].mass_kg));
    // NaN stays in its own jar and in the sums it belongs to
    const Cuts cuts = work_out_cuts(std::vector<Jar>{{1.0, 20.0, 0.7, cut_label::heads}, {1.0, 20.0, no_number, cut_label::tails}});
    CHECK(cuts.jars[0].mass_kg > 0.0);
    CHECK(cuts.fractions[1].content.mass_kg > 0.0);
    CHECK(std::isnan(cuts.fractions[3].content.mass_kg));
    CHECK(std::isnan(cuts.total.mass_kg));
    CHECK_THROWS_AS(blend_jars(one_run(), Indices{}), InputError);
    CHECK_THROWS_AS(blend_jars(one_run(), Indices{99}), InputError);
    CHECK_THROWS_AS(blend_jars(one_run(), Indices{2, 2}), InputError);
}
