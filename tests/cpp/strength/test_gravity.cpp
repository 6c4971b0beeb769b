#include <algorithm>
#include <cmath>
#include <ferment/core/lanes.hpp>
#include <ferment/strength/gravity.hpp>
#include <functional>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "csv.hpp"

using namespace ferment;
using ferment_test::read_table;
using ferment_test::Row;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double percent = 100.0;
constexpr gravity_frame at_20{};
constexpr gravity_frame at_60f = frame_of<at_60f_60f>();

std::vector<Row> table(const std::string& name) {
    return read_table("gravity_to_alcohol/" + name + ".csv");
}

bool flagged(const Row& row) {
    return row.has("flag");
}
bool suspect(const Row& row) {
    return row.text("flag").find("SUSPECT") != std::string::npos;
}

/// Mean, standard deviation and root mean square of a set of differences.
class Spread {
public:
    void add(const double d) {
        CHECK(std::isfinite(d));
        n_ += 1.0;
        sum_ += d;
        squares_ += d * d;
        least_ = std::min(least_, d);
        greatest_ = std::max(greatest_, d);
    }
    [[nodiscard]] double count() const { return n_; }
    [[nodiscard]] double mean() const { return sum_ / n_; }
    [[nodiscard]] double rms() const { return std::sqrt(squares_ / n_); }
    [[nodiscard]] double sd() const { return std::sqrt((squares_ - n_ * mean() * mean()) / (n_ - 1.0)); }
    [[nodiscard]] double least() const { return least_; }
    [[nodiscard]] double greatest() const { return greatest_; }

private:
    double n_ = 0.0, sum_ = 0.0, squares_ = 0.0, least_ = infinite, greatest_ = -infinite;
};

/// A brew of 1911-1912 with strength in % vol at 60 degF (ethanol 0.7931 g/mL, as the header of the table says).
struct Brew {
    double og, fg, measured;
};

std::vector<Brew> clean_brews() {
    constexpr double ethanol_g_per_ml = 0.7931;
    std::vector<Brew> brews;
    for (const Row& row : table("measured_og_fg_alcohol_us_brewery_1911_1912")) {
        if (!suspect(row)) {
            brews.push_back({row.number("wort_sg_60F"), row.number("beer_sg_60F"), row.number("alcohol_g_per_100mL") / ethanol_g_per_ml});
        }
    }
    return brews;
}

/// % vol at 60 degF of a wash.
double abv_at_60f(const double e, const double x) {
    return percent * e / wash::specific_volume(e, x, sixty_fahrenheit_c) / volume_at_60f::ethanol_density;
}

Spread balance_on_brews(const fermentation_yield& yield) {
    Spread spread;
    for (const Brew& brew : clean_brews()) {
        const fermented_wort<double> now = density_balance::solve(brew.og, brew.fg, yield, at_60f);
        spread.add(abv_at_60f(now.ethanol, now.real_extract) - brew.measured);
    }
    return spread;
}

/// What the error of f says; the empty text when it does not throw an Error.
template <class F>
std::string message_of(const F& f) {
    try {
        f();
    } catch (const Error& error) {
        return error.what();
    }
    return {};
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

specific_gravity<> sg(const double x) {
    return x * sg_20_20;
}
extract<> plato(const double x) {
    return x * degree_plato;
}

}  // namespace

// ---- the density balance on measured brews ------------------------------------------------------------------------------------------

TEST_CASE("density balance on the brews of 1911-1912", "[strength][gravity][published]") {
    // Tolman, Riley (1917) USDA Bulletin 493, Tables I-IV. Required: mean error within 0.10, rms no worse than the best published relation.
    double best_rms = infinite;
    for (const Row& row : table("formula_bias_on_1911_data")) {
        best_rms = std::min(best_rms, row.number("rms"));
    }
    CHECK(best_rms == 0.153);
    const Spread spread = balance_on_brews(default_yield);
    CAPTURE(spread.mean(), spread.sd(), spread.rms());
    CHECK(spread.count() == 27.0);
    CHECK(std::abs(spread.mean()) <= 0.10);
    CHECK(spread.rms() <= best_rms);
    // Row by row: 0.35 % vol about the mean.
    CHECK(spread.greatest() - spread.mean() <= 0.35);
    CHECK(spread.mean() - spread.least() <= 0.35);
    // Regression: the figures of the documentation.
    CHECK(std::abs(spread.mean() - 0.049) <= 0.0005);
    CHECK(std::abs(spread.rms() - 0.149) <= 0.0005);
}

TEST_CASE("both published yields compared", "[strength][gravity]") {
    const Spread balling = balance_on_brews(balling_1865);
    CHECK(std::abs(balling.mean() - 0.064) <= 0.0005);  // regression: the figures of the documentation
    CHECK(std::abs(balling.rms() - 0.155) <= 0.0005);
    CHECK(std::abs(balling_1865.ethanol - 0.48391) <= 5e-6);
    CHECK(std::abs(bringhurst_1996.ethanol - 0.4822) <= 5e-5);
    CHECK(std::abs(bringhurst_1996.carbon_dioxide / bringhurst_1996.ethanol - 0.95528) <= 5e-6);
    for (const fermentation_yield& yield : {balling_1865, bringhurst_1996}) {
        CHECK(std::abs(yield.ethanol + yield.carbon_dioxide + yield.yeast - 1.0) <= 1e-15);
        CHECK(yield.yeast > 0.0);
    }
    // The two are never more than 0.4 % (relative) apart in alcohol.
    for (const double og : {1.03, 1.06, 1.09}) {
        const double by_bringhurst = gravity_balance(sg(og), sg(0.998), bringhurst_1996).strength.value();
        const double ratio = by_bringhurst / gravity_balance(sg(og), sg(0.998), balling_1865).strength.value();
        CAPTURE(og, ratio);
        CHECK(ratio < 1.0);
        CHECK(ratio > 0.996);
    }
}

TEST_CASE("published relations keep their known bias on the brews of 1911-1912", "[strength][gravity][published]") {
    // The table of bias was worked with this cubic for degrees Plato (coefficients in its header) and SG 60/60 taken as 20/20. With the
    // sucrose polynomial of this library in place of the cubic the chains through extract come out 0.02 to 0.03 lower.
    const auto plato_of = [](const double g) { return (-616.868 + 1111.14 * g - 630.272 * g * g + 135.997 * g * g * g) / percent; };
    const auto by_volume = [](const double a, const double fg) { return percent * abv_by_convention::abv(a, fg); };
    using Method = std::function<double(double og, double fg)>;
    const std::map<std::string, Method> methods{
        {"balling_real_extract + balling_alcohol_from_OE_RE + abv_from_abw",
         [&](const double og, const double fg) {
             const double oe = plato_of(og);
             return by_volume(balling_alcohol_from_oe_re::abw(oe, balling_real_extract::real_extract(oe, plato_of(fg))), fg);
         }},
        {"cutaia_q + balling_alcohol_from_OE_RE + abv_from_abw",
         [&](const double og, const double fg) {
             const double oe = plato_of(og);
             return by_volume(balling_alcohol_from_oe_re::raw(oe, cutaia_q::raw(oe, plato_of(fg))), fg);
         }},
        {"cutaia_a + abv_from_abw", [&](const double og, const double fg) { return by_volume(cutaia_a::raw(plato_of(og), plato_of(fg)), fg); }},
        {"doemens_a + abv_from_abw", [&](const double og, const double fg) { return by_volume(doemens_a::raw(plato_of(og), plato_of(fg)), fg); }},
        {"hall_abw + hall_abv", [](const double og, const double fg) { return percent * hall_1995::raw_abv(og, fg); }},
        {"hmrc_226 (not truncated)", [](const double og, const double fg) { return percent * hmrc_226::abv(og, fg); }},
    };
    const std::vector<Brew> brews = clean_brews();
    std::size_t seen = 0;
    for (const Row& row : table("formula_bias_on_1911_data")) {
        const std::string name = row.text("relation");
        CAPTURE(name);
        REQUIRE(methods.count(name) == 1);
        Spread spread;
        for (const Brew& brew : brews) {
            spread.add(methods.at(name)(brew.og, brew.fg) - brew.measured);
        }
        CHECK(spread.count() == row.number("rows"));
        CHECK(std::abs(spread.mean() - row.number("mean_diff")) <= 0.005);
        CHECK(std::abs(spread.sd() - row.number("sd")) <= 0.005);
        CHECK(std::abs(spread.rms() - row.number("rms")) <= 0.005);
        CHECK(std::abs(spread.least() - row.number("min")) <= 0.01);
        CHECK(std::abs(spread.greatest() - row.number("max")) <= 0.01);
        ++seen;
    }
    CHECK(seen == methods.size());
}

TEST_CASE("density balance on the malt liquors of the 1870s", "[strength][gravity][published]") {
    // Cooley (1880). Their original gravity was itself derived from the alcohol, with the spirit-indication table of 1852. Tolerance 0.3 % vol,
    // 0.6 above OG 1.11. Three rows have a printed gravity that their printed alcohol and extract do not give (by 0.0012 to 0.0031): there the
    // gravity is rebuilt from these two; as printed the balance is off by +0.09, -0.47 and -0.27 % vol.
    for (const Row& row : table("measured_og_fg_alcohol_malt_liquors_1870s")) {
        constexpr double water = 1000.0;  // degrees
        const double og = row.number("original_gravity_deg") / water;
        const double a = row.number("alcohol_pct_w_w") / percent;
        const double x = row.number("real_extract_pct_w_w") / percent;
        const double fg = flagged(row) ? density_balance::gravity(a, x, at_60f) : row.number("present_gravity_deg") / water;
        const fermented_wort<double> now = density_balance::solve(og, fg, default_yield, at_60f);
        const double difference = abv_at_60f(now.ethanol, now.real_extract) - abv_at_60f(a, x);
        CAPTURE(row.text("product"), og, fg, difference);
        CHECK(std::abs(difference) <= (og > 1.11 ? 0.6 : 0.3));
    }
}

// ---- densities and extracts ---------------------------------------------------------------------------------------------------------

TEST_CASE("Tabarie's rule on the beers of 1911-1912", "[strength][gravity][published]") {
    // USDA Bulletin 493. The bulletin's extracts are on the Schultz-Ostermann scale, 264.7 to 267.2 g/100 mL per unit of gravity - 1, rising
    // with the extract; the beers (4.8 to 9.2 g/100 mL) lie below the weakest worts, so the lower end of the scale is theirs.
    constexpr double schultz_ostermann = 264.7;
    constexpr double tolerance = 0.0003;
    int clean = 0;
    for (const Row& row : table("measured_og_fg_alcohol_us_brewery_1911_1912")) {
        constexpr double kg_per_m3 = 10.0;  // in a gram per 100 mL
        const double p = volume_at_60f::to_abw(row.number("alcohol_g_per_100mL") * kg_per_m3 / volume_at_60f::ethanol_density);
        const double alcohol = volume_at_60f::density(p) / volume_at_60f::density(0.0);
        const double solids = 1.0 + row.number("real_extract_g_per_100mL") / schultz_ostermann;
        const double beer = tabarie_gravity<at_60f_60f>(alcohol * sg_60f, solids * sg_60f).value();
        const double difference = beer - row.number("beer_sg_60F");
        CAPTURE(row.text("sample"), difference);
        if (suspect(row)) {
            CHECK(std::abs(difference) > tolerance);
        } else {
            CHECK(std::abs(difference) <= tolerance);
            ++clean;
        }
        CHECK(std::abs(tabarie_sg::extract_gravity(beer, alcohol) - solids) <= 1e-15);
    }
    CHECK(clean == 27);
}

TEST_CASE("extract from SG 15/15 by the German official table", "[strength][gravity][published]") {
    // Koenig, Table XIX; 0.016 g/100 mL. One row that carries no flag, SG 1.0180, is 0.0168 above the polynomial: it stands 0.06 above its
    // neighbour at 1.0178, where the table rises by 0.05 for two steps elsewhere.
    constexpr double odd_row = 1.0180;
    for (const Row& row : table("extract_from_sg_15_15_german_official")) {
        if (flagged(row)) continue;
        const double gravity = row.number("sg_15_15");
        constexpr double kg_per_m3 = 10.0;
        const extract<> w = apparent_extract<at_15_15>(gravity * sg_15_15);
        const double found = extract_per_litre(w, 15.0 * degree_celsius).value() / kg_per_m3;
        const double difference = found - row.number("extract_g_per_100mL");
        CAPTURE(gravity, difference);
        CHECK(std::abs(difference) <= (gravity == odd_row ? 0.0169 : 0.016));
    }
}

TEST_CASE("apparent extract from ethanol and real extract of American lagers", "[strength][gravity][published]") {
    // Wahl, Henius (1908), analyses of 1873-1895; 0.15 degrees Balling. The mean of 15 samples of 1887 is 0.154 off.
    int rows = 0;
    for (const Row& row : table("measured_ae_re_alcohol_us_lagers_1873_1895")) {
        if (contains(row.text("flag"), "apparent extract")) continue;
        const specific_gravity<> beer = wash_gravity(row.number("alcohol_pct_w_w") * percent_mass, plato(row.number("real_extract_pct")));
        const double difference = value_in(apparent_extract(beer), degree_plato) - row.number("apparent_extract_pct");
        CAPTURE(row.text("sample"), row.text("year"), difference);
        CHECK(std::abs(difference) <= (row.text("sample") == "average of 15 samples" ? 0.155 : 0.15));
        ++rows;
    }
    CHECK(rows == 13);
}

TEST_CASE("dry extract of wines, most of them lighter than water", "[strength][gravity][published]") {
    // Cortez et al. (2009). Sugar-free extract of the whole set: 19.3 with standard deviation 2.4 g/L (white), 29.9 with 3.9 (red). The densities
    // are as printed; the odd row is one with an averaged strength. Most distant: white 1240 by 4.99 and red 560 by 4.87 standard deviations.
    struct Kind {
        double mean, sd;
        Spread spread;
    };
    std::map<std::string, Kind> kinds{{"white", {19.3, 2.4, {}}}, {"red", {29.9, 3.9, {}}}};
    int lighter_than_water = 0;
    for (const Row& row : table("wine_density_alcohol_residual_sugar")) {
        constexpr double kg_per_m3 = 1000.0;  // in a g/mL
        const density<> rho = row.number("density_g_per_mL") * kg_per_m3 * kilogram_per_cubic_metre;
        const abv<> strength = row.number("alcohol_pct_v_v") * percent_vol;
        const double sugar = row.number("residual_sugar_g_per_L");
        const double dry = dry_extract(rho, strength).value();
        CAPTURE(row.text("kind"), row.text("record"), dry, sugar);
        Kind& kind = kinds.at(row.text("kind"));
        const double free_of_sugar = dry - sugar;
        CHECK(free_of_sugar > 0.0);
        CHECK(std::abs(free_of_sugar - kind.mean) <= 5.0 * kind.sd);
        kind.spread.add(free_of_sugar);
        // OIV-MA-AS2-03B by way of the alcohol-free gravity. The method states no accuracy; the largest difference of the two is 0.18 g/L.
        const specific_gravity<> without_alcohol = alcohol_free_gravity(rho, strength);
        const double oiv = extract_per_litre(plato_from_sg(without_alcohol), 20.0 * degree_celsius).value();
        CHECK(std::abs(oiv - dry) <= 0.18);
        // The must it may have been: the inverse holds below the gravity of water.
        const double e = strength.value() * volume_at_20c::ethanol_density / rho.value();
        const double fg = density_balance::gravity(e, dry / rho.value(), at_20);
        lighter_than_water += fg < 1.0 ? 1 : 0;
        const specific_gravity<> og = original_gravity_from_abv_fg(strength, sg(fg));
        CHECK(og.value() > 1.05);
        CHECK(std::abs(gravity_balance(og, sg(fg)).strength.value() - strength.value()) <= 1e-12);
        CHECK(std::abs(gravity_balance(og, sg(fg)).real_extract.value() * rho.value() - dry) <= 1e-9);
    }
    CHECK(lighter_than_water > 200);
    for (const auto& [name, kind] : kinds) {
        CAPTURE(name, kind.spread.mean(), kind.spread.sd());
        CHECK(std::abs(kind.spread.mean() - kind.mean) <= 2.0 * kind.sd / std::sqrt(kind.spread.count()));
    }
}

TEST_CASE("original extract of American beers of 1917", "[strength][gravity][published]") {
    // USDA Bulletin 493, Tables VII-XII: 2A + E printed to 0.01, degree of fermentation = 200 A/(2A + E).
    int rows = 0;
    for (const Row& row : table("measured_alcohol_real_extract_us_beers_1917")) {
        if (flagged(row)) continue;
        const abw<> a = row.number("alcohol_pct_w_w") * percent_mass;
        const extract<> re = plato(row.number("real_extract_pct_w_w"));
        const double crude = value_in(original_extract_by<tolman_2a_plus_e>(a, re), degree_plato);
        const double balling = value_in(original_extract_by<balling_original_extract>(a, re), degree_plato);
        CAPTURE(row.text("sample"), crude, balling);
        CHECK(std::abs(crude - row.number("original_extract_2A_plus_E_pct")) <= 0.01 + 1e-9);
        CHECK(crude - balling > 0.0);
        CHECK(crude - balling < 1.0);
        // Fed through the gravities: alcohol and real extract -> OG and FG -> the same alcohol and extract.
        const specific_gravity<> fg = wash_gravity(a, re);
        const specific_gravity<> og = sg_from_plato(plato(balling));
        const FermentedWash back = gravity_balance(og, fg, balling_1865);
        CHECK(std::abs(back.strength_by_mass.value() - a.value()) <= 1e-12);
        CHECK(std::abs(back.real_extract.value() - re.value()) <= 1e-12);
        ++rows;
    }
    CHECK(rows >= 60);
}

TEST_CASE("attenuation and Balling on modern analyses", "[strength][gravity][published]") {
    // Source A (Foods 2023, 12, 2544, means of three trials): arithmetic within 0.1 degree of either extract. Found at most 0.50 % ADF, 0.63 % RDF.
    // Source B (Cutaia 2009, Table III): original extract by Balling, 0.25 degree.
    for (const Row& row : table("modern_beer_analyses")) {
        const double oe = row.number("original_extract_P");
        const double ae = row.number("apparent_extract_P");
        const double re = row.number("real_extract_P");
        CAPTURE(row.text("sample"));
        if (row.text("source") == "A") {
            constexpr double rounding = 0.1;  // degree
            const auto allowed = [&](const double left) { return percent * rounding * (1.0 + left / oe) / oe; };
            CHECK(std::abs(percent * adf::attenuation(oe / percent, ae / percent) - row.number("ADF_pct")) <= allowed(ae));
            CHECK(std::abs(percent * real_degree_of_fermentation(plato(oe), plato(re)) - row.number("RDF_pct")) <= allowed(re));
            const abw<> a = wash_abw(row.number("alcohol_pct_v_v") * percent_vol, plato(re));
            CHECK(std::abs(value_in(original_extract_by(a, plato(re)), degree_plato) - oe) <= 0.135);  // 0.13 stated
        } else {
            CHECK(std::abs(value_in(original_extract_by(row.number("alcohol_pct_w_w") * percent_mass, plato(re)), degree_plato) - oe) <= 0.25);
        }
    }
    // Its constant is Balling's: the fermented share of the original extract, the loss of carbon dioxide and yeast counted, to the last digit printed.
    const double of_balling = balling_mass_balance::lost_per_ethanol / (percent * balling_mass_balance::extract_per_ethanol);
    CHECK(std::abs(asbc_beer6_rdf::per_percent_extract - of_balling) <= 5e-7);
    // The simple definition lies 1 to 2 % below that of the ASBC, for beers.
    const double ratio = rdf_simple::attenuation(0.12, 0.04) / asbc_beer6_rdf::attenuation(0.12, 0.04);
    CHECK(ratio > 0.975);
    CHECK(ratio < 0.99);
}

TEST_CASE("regressions of 2009 on the means of their own data", "[strength][gravity][published]") {
    // Cutaia et al. (2009), Table III. Tolerances: what the coefficients of Table VI give on these means; for the ratios, Table VI's standard error
    // (twice it for q, whose "proprietary" set is 0.0087 off). The wrong readings of the text copy (0.199; plus) fail by far.
    double oe_low = 1.0, oe_high = 0.0, ae_low = 1.0, ae_high = 0.0, re_low = 1.0, re_high = 0.0;
    int means = 0;
    for (const Row& row : table("cutaia_2009_dataset_ranges")) {
        const double oe = row.number("original_extract_P") / percent;
        const double ae = row.number("apparent_extract_P") / percent;
        const double re = row.number("real_extract_P") / percent;
        const double a = row.number("alcohol_pct_w_w");
        oe_low = std::min(oe_low, oe);
        oe_high = std::max(oe_high, oe);
        ae_low = std::min(ae_low, ae);
        ae_high = std::max(ae_high, ae);
        re_low = std::min(re_low, re);
        re_high = std::max(re_high, re);
        if (row.text("statistic") != "mean") continue;
        ++means;
        CAPTURE(row.text("data_set"));
        CHECK(std::abs(percent * alcohol_by<cutaia_a>(plato(percent * oe), plato(percent * ae)).value() - a) <= 0.09);
        CHECK(std::abs(percent * alcohol_by<cutaia_b>(plato(percent * oe), plato(percent * re)).value() - a) <= 0.1005);  // 0.10, printed to 0.01
        CHECK(std::abs(percent * alcohol_by<cutaia_c>(plato(percent * oe), plato(percent * re), plato(percent * ae)).value() - a) <= 0.036);
        CHECK(std::abs(cutaia_c::ratio(oe) - a / percent / (re - ae)) <= 0.0126);
        CHECK(std::abs(cutaia_q::at(oe) - (oe - re) / (oe - ae)) <= 2.0 * 0.00484);
        CHECK(std::abs(value_in(real_extract_by<cutaia_q>(plato(percent * oe), plato(percent * ae)), degree_plato) - percent * re) <=
              2.0 * 0.00484 * percent * (oe - ae));
        // Doemens on the same means: quoted without an accuracy; regression, largest differences found.
        CHECK(std::abs(percent * alcohol_by<doemens_a>(plato(percent * oe), plato(percent * ae)).value() - a) <= 0.09);
        CHECK(std::abs(percent * alcohol_by<doemens_b>(plato(percent * oe), plato(percent * re)).value() - a) <= 0.12);
        CHECK(std::abs(percent * alcohol_by<doemens_c>(plato(percent * oe), plato(percent * re), plato(percent * ae)).value() - a) <= 0.17);
        CHECK(std::abs(doemens_q::at(oe) - (oe - re) / (oe - ae)) <= 0.009);
        // Balling's fixed ratio gives less real extract than any of the five means.
        const double balling = value_in(real_extract_by_balling(plato(percent * oe), plato(percent * ae)), degree_plato);
        CHECK(balling < percent * re);
        CHECK(balling > percent * re - 0.2);
    }
    CHECK(means == 5);
    // The ranges in the code are those of the table.
    CHECK(std::abs(oe_low - cutaia_brews::original.lower) <= 1e-15);
    CHECK(std::abs(oe_high - cutaia_brews::original.upper) <= 1e-15);
    CHECK(std::abs(ae_low - cutaia_brews::apparent.lower) <= 1e-15);
    CHECK(std::abs(ae_high - cutaia_brews::apparent.upper) <= 1e-15);
    CHECK(std::abs(re_low - cutaia_brews::real.lower) <= 1e-15);
    CHECK(std::abs(re_high - cutaia_brews::real.upper) <= 1e-15);
    // Doemens' own coefficients agree among themselves: a/b = q at 12 % extract, 0.8128 against 0.8121.
    CHECK(std::abs(doemens_a::ratio(0.12) / doemens_b::ratio(0.12) - 0.8128) <= 5e-5);
    CHECK(std::abs(doemens_q::at(0.12) - 0.8121) <= 5e-5);
}

// ---- rules --------------------------------------------------------------------------------------------------------------------------

TEST_CASE("factor table of the beer duty", "[strength][gravity][published]") {
    // HMRC Excise Notice 226, par. 30.3: factors exact. The upper edge of a band gives the printed upper strength, rounded to 0.1; but the bands that
    // end at 6.9 and 17.2 degrees (0.8625 and 2.1844 % vol) are printed as 0.8 and 2.1, cut down.
    int bands = 0;
    for (const Row& row : table("hmrc226_factor_table")) {
        const double from = row.number("difference_from_deg");
        const double to = row.number("difference_to_deg");
        const double f = row.number("factor");
        CAPTURE(from, to);
        CHECK(std::abs(hmrc_226_factor(from) - f) <= 1e-15);
        CHECK(std::abs(hmrc_226_factor(0.5 * (from + to)) - f) <= 1e-15);
        CHECK(std::abs(hmrc_226_factor(to) - f) <= 1e-15);
        const double above_printed = to * hmrc_226_factor(to) - row.number("abv_to_printed");
        if (to == 6.9 || to == 17.2) {
            CHECK(above_printed > 0.05);
            CHECK(above_printed < 0.1);
        } else {
            CHECK(std::abs(above_printed) <= 0.05);
        }
        // Through gravities, whose difference is not exact in binary.
        const double og = 1.02 + to / points_per_gravity;
        if (og <= 1.13) {
            CHECK(std::abs(percent * hmrc_226_abv(sg(og), sg(1.02)).value() - to * f) <= 1e-10);
        }
        ++bands;
    }
    CHECK(bands == 11);
    CHECK_THROWS_AS(hmrc_226_factor(100.8), RangeError);
    CHECK_THROWS_AS(hmrc_226_factor(-0.1), RangeError);
    CHECK(std::isnan(hmrc_226::factor(101.0)));
    CHECK(std::isnan(hmrc_226::factor(-1.0)));
    CHECK(std::isnan(hmrc_226_factor(not_a_number)));
    CHECK(contains(message_of([] { hmrc_226_abv(sg(1.12), sg(1.01)); }), "100.7"));
    CHECK_THROWS_AS(hmrc_226_abv(sg(1.01), sg(1.02)), InputError);
}

TEST_CASE("worked examples", "[strength][gravity][published]") {
    using Example = std::function<double(const Row&)>;
    const std::map<std::string, Example> examples{
        {"total_extract_g_per_100mL",
         [](const Row& row) { return extract_per_litre(plato_from_sg(sg(row.number("first"))), 20.0 * degree_celsius).value() / 10.0; }},
        {"duty_abv_pct", [](const Row& row) { return value_in(duty_strength(row.number("first") * percent_vol), percent_vol); }},
        {"hmrc_abv_pct", [](const Row& row) { return value_in(hmrc_226_abv(sg(1.01 + row.number("first") / points_per_gravity), sg(1.01)), percent_vol); }},
        {"tolman_oe_pct",
         [](const Row& row) {
             return value_in(original_extract_by<tolman_2a_plus_e>(row.number("first") * percent_mass, plato(row.number("second"))), degree_plato);
         }},
        {"balling_oe_pct",
         [](const Row& row) { return value_in(original_extract_by(row.number("first") * percent_mass, plato(row.number("second"))), degree_plato); }},
    };
    std::set<std::string> seen;
    for (const Row& row : table("worked_examples")) {
        const std::string name = row.text("relation");
        CAPTURE(name, row.line());
        REQUIRE(examples.count(name) == 1);
        CHECK(std::abs(examples.at(name)(row) - row.number("printed")) <= row.number("tolerance") + 1e-12);
        seen.insert(name);
    }
    CHECK(seen.size() == examples.size());
}

TEST_CASE("duty strength is cut down, never up", "[strength][gravity]") {
    for (int tenths = 0; tenths <= 1000; ++tenths) {
        const double abv_percent = tenths / 10.0;
        CAPTURE(abv_percent);
        CHECK(std::abs(value_in(duty_strength(abv_percent * percent_vol), percent_vol) - abv_percent) <= 1e-12);
        if (tenths < 1000) {
            CHECK(std::abs(value_in(duty_strength((abv_percent + 0.0999) * percent_vol), percent_vol) - abv_percent) <= 1e-12);
        }
    }
    CHECK(std::isnan(duty_strength(not_a_number * percent_vol).value()));
    CHECK_THROWS_AS(duty_strength(-1.0 * percent_vol), RangeError);
}

TEST_CASE("yields", "[strength][gravity][published]") {
    std::map<std::string, double> reported;
    for (const Row& row : table("yield_theory_and_practice")) {
        if (row.text("value").find("+-") == std::string::npos) {
            reported.emplace(row.text("item"), row.number("value"));
        }
    }
    CHECK(std::abs(balling_1865.ethanol - reported.at("Balling yield (extract to ethanol)")) <= 5e-6);
    CHECK(robirds_rossi_ethanol(1.0 * kilogram).value() == reported.at("practical yield, commercial wineries"));
    CHECK(std::abs(yield_from_ethanol(0.51143).yeast) <= 2e-5);  // hexose at full theory leaves nothing for the yeast
    // Extract lost per gram of ethanol in single brews of 1911-1912: 2.00 to 2.27 (USDA Bulletin 493, Table V).
    CHECK(1.0 / bringhurst_1996.ethanol > 2.00);
    CHECK(1.0 / bringhurst_1996.ethanol < 2.27);
    CHECK(balling_mass_balance::lost_per_ethanol == balling_mass_balance::carbon_dioxide_per_ethanol + balling_mass_balance::yeast_per_ethanol);
    CHECK(std::abs(1.0 + balling_mass_balance::lost_per_ethanol - balling_mass_balance::extract_per_ethanol) <= 1e-15);
    // Bringhurst et al. (1996): attenuation factor 81.46; 6.06 and 6.11 litres per tonne and percent.
    CHECK(std::abs(value_in(fermentable_extract(plato(14.0), plato(-1.0)), degree_plato) - 0.8146 * 15.0) <= 1e-12);
    CHECK(std::abs(predicted_spirit_yield(plato(70.0)) - 6.06 * 70.0) <= 1e-12);
    CHECK(std::abs(predicted_spirit_yield(plato(70.0), psy_factor::measured) - 6.11 * 70.0) <= 1e-12);
    // The default yield is that factor, as litres of ethanol from a kilogram of extract.
    CHECK(std::abs(default_yield.ethanol / volume_at_20c::ethanol_density * 1000.0 - 0.611) <= 1e-12);
    CHECK_THROWS_AS(robirds_rossi_ethanol(-1.0 * kilogram), RangeError);
    CHECK_THROWS_AS(predicted_spirit_yield(plato(101.0)), RangeError);
    CHECK_THROWS_AS(fermentable_extract(plato(10.0), plato(-7.0)), RangeError);
    CHECK_THROWS_AS(fermentable_extract(plato(10.0), plato(11.0)), InputError);
    CHECK(std::isnan(robirds_rossi::ethanol(-1.0)));
    CHECK(std::isnan(psy_factor::litres_per_tonne(1.1)));
}

// ---- identities ---------------------------------------------------------------------------------------------------------------------

TEST_CASE("the balance closes and inverts over its whole range", "[strength][gravity]") {
    int solved = 0;
    double worst_round_trip = 0.0, worst_balance = 0.0;
    for (const fermentation_yield& yield : {balling_1865, bringhurst_1996}) {
        for (const gravity_frame& frame : {at_20, at_60f, frame_of<at_15_15>(), frame_of<at_20_4>()}) {
            for (int i = 0; i <= 26; ++i) {
                const double og = 1.0 + 0.005 * i;
                double above = infinite;
                for (int k = 0; k <= 40; ++k) {
                    const double fg = 0.98 + 0.002 * k;
                    const fermented_wort<double> now = density_balance::solve(og, fg, yield, frame);
                    if (fg > og || fg < density_balance::least_final_gravity(og, yield, frame)) {
                        CHECK(std::isnan(now.ethanol));
                        continue;
                    }
                    ++solved;
                    CAPTURE(og, fg);
                    const double oe = wort_gravity::extract(og, frame);
                    // Mass: liquid, gas and yeast make the wort; extract, ethanol, gas and yeast make the extract; the water stays.
                    worst_balance = std::max(worst_balance, std::abs(now.liquid + now.carbon_dioxide + now.yeast - 1.0));
                    worst_balance = std::max(worst_balance, std::abs(now.liquid * now.real_extract + now.extract_consumed - oe));
                    worst_balance = std::max(worst_balance, std::abs(now.liquid * (now.real_extract + now.ethanol) + now.carbon_dioxide + now.yeast - oe));
                    worst_balance = std::max(worst_balance, std::abs(now.liquid * (1.0 - now.real_extract - now.ethanol) - (1.0 - oe)));
                    CHECK(std::abs(density_balance::gravity(now.ethanol, now.real_extract, frame) - fg) <= 1e-13);
                    const double q = wash::abv(now.ethanol, now.real_extract);
                    CHECK(q < above);  // the drier the stronger
                    above = q;
                    worst_round_trip = std::max(worst_round_trip, std::abs(density_balance::original_gravity(q, fg, yield, frame) - og));
                }
            }
        }
    }
    CAPTURE(solved, worst_balance, worst_round_trip);
    CHECK(solved > 3000);
    CHECK(worst_balance <= 1e-12);
    CHECK(worst_round_trip <= 1e-10);
}

TEST_CASE("ends of the balance", "[strength][gravity][edges]") {
    const FermentedWash water = gravity_balance(sg(1.0), sg(1.0));
    CHECK(water.strength.value() == 0.0);
    CHECK(water.real_extract.value() == 0.0);
    CHECK(std::isnan(water.apparent_attenuation));
    CHECK(std::isnan(water.real_attenuation));
    for (const double og : {1.0005, 1.02, 1.047, 1.06}) {
        CAPTURE(og);
        const FermentedWash unfermented = gravity_balance(sg(og), sg(og));
        CHECK(unfermented.strength.value() == 0.0);
        CHECK(unfermented.extract_consumed == 0.0);
        CHECK(std::abs(unfermented.apparent_extract.value() - unfermented.original_extract.value()) <= 1e-15);
        const specific_gravity<> least = least_final_gravity(sg(og));
        const FermentedWash dry = gravity_balance(sg(og), least);
        CHECK(dry.real_extract.value() == 0.0);
        CHECK(dry.extract_consumed == dry.original_extract.value());
        CHECK(dry.real_attenuation == 1.0);
        CHECK(dry.apparent_attenuation > 1.0);
        CHECK(dry.apparent_extract.value() < 0.0);
        CHECK(std::abs(original_gravity_from_abv_fg(dry.strength, least).value() - og) <= 1e-10);
    }
    CHECK(std::abs(original_gravity_from_abv_fg(0.0 * percent_vol, sg(1.0)).value() - 1.0) <= 1e-12);
    CHECK(std::abs(original_gravity_from_abv_fg(0.0 * percent_vol, sg(1.04)).value() - 1.04) <= 1e-12);
}

TEST_CASE("one wash in every frame has one strength", "[strength][gravity]") {
    constexpr double oe = 0.15, consumed = 0.135;
    const fermented_wort<double> wort = density_balance::after(oe, consumed, default_yield);
    const double expected = wash::abv(wort.ethanol, wort.real_extract);
    const auto check = [&](auto reference) {
        using Reference = decltype(reference);
        const gravity_frame frame = frame_of<Reference>();
        const auto og = gravity<Reference>::from_value(wort_gravity::from_extract(oe, frame));
        const auto fg = gravity<Reference>::from_value(density_balance::gravity(wort.ethanol, wort.real_extract, frame));
        const FermentedWash found = gravity_balance<Reference>(og, fg);
        CAPTURE(Reference::name, og.value(), fg.value());
        CHECK(std::abs(found.strength.value() - expected) <= 1e-12);
        CHECK(std::abs(abv_from_gravity<Reference>(og, fg).value() - expected) <= 1e-12);
        CHECK(std::abs(found.real_extract.value() - wort.real_extract) <= 1e-12);
        CHECK(std::abs(real_extract<Reference>(og, fg).value() - wort.real_extract) <= 1e-12);
        CHECK(std::abs(found.apparent_attenuation - apparent_attenuation<Reference>(og, fg)) <= 1e-15);
        CHECK(std::abs(found.real_attenuation - real_attenuation<Reference>(og, fg)) <= 1e-15);
        CHECK(std::abs(original_gravity_from_abv_fg<Reference>(found.strength, fg).value() - og.value()) <= 1e-12);
        // The published relations, made for SG 20/20, move by less than 0.1 % vol.
        for (const gravity_method method : {gravity_method::balling, gravity_method::hmrc_226}) {
            CAPTURE(to_string(method));
            CHECK(std::abs(abv_from_gravity<Reference>(og, fg, method).value() - expected) <= 0.003);
        }
    };
    check(at_20_20{});
    check(at_15_15{});
    check(at_60f_60f{});
    check(at_20_4{});
}

TEST_CASE("Balling's relations are one mass balance", "[strength][gravity]") {
    for (const double oe : {0.05, 0.12, 0.2, 0.28}) {
        for (const double share : {0.1, 0.5, 0.9, 1.0}) {
            const fermented_wort<double> now = density_balance::after(oe, share * oe, balling_1865);
            CAPTURE(oe, share);
            CHECK(std::abs(balling_original_extract::original_extract(now.ethanol, now.real_extract) - oe) <= 1e-14);
            CHECK(std::abs(alcohol_by<balling_alcohol_from_oe_re>(oe * percent * degree_plato, now.real_extract * percent * degree_plato).value() -
                           now.ethanol) <= 1e-14);
            CHECK(std::abs(density_balance::original_extract(now.ethanol, now.real_extract, balling_1865) - oe) <= 1e-14);
        }
    }
    CHECK(std::abs(balling_real_extract::share_of_original + balling_real_extract::share_of_apparent - 1.0) <= 1e-15);
}

TEST_CASE("apparent extract goes on smoothly below the gravity of water", "[strength][gravity]") {
    for (const gravity_frame& frame : {at_20, at_60f, frame_of<at_20_4>()}) {
        for (int i = -60; i <= 300; ++i) {
            const double w = i / 1000.0;
            const double gravity = apparent_extract_scale::gravity(w, frame);
            CAPTURE(w, gravity);
            CHECK(std::abs(apparent_extract_scale::extract(gravity, frame) - w) <= 1e-14);
            if (w >= 0.0) {
                CHECK(std::abs(wort_gravity::from_extract(w, frame) - gravity) <= 1e-15);
            }
        }
    }
    // The cubic of the ASBC table, continued in the same way (coefficients: header of formula_bias_on_1911_data.csv), is within 0.02 %.
    for (int i = 0; i <= 80; ++i) {
        const double g = 0.98 + 0.001 * i;
        const double cubic = -616.868 + 1111.14 * g - 630.272 * g * g + 135.997 * g * g * g;
        CAPTURE(g);
        CHECK(std::abs(value_in(apparent_extract(sg(g)), degree_plato) - cubic) <= 0.02);
    }
    CHECK(apparent_extract(sg(1.0)).value() == 0.0);
    CHECK_THROWS_AS(apparent_extract(sg(0.97)), RangeError);
    CHECK(std::isnan(apparent_extract_scale::extract(0.97, at_20)));
}

TEST_CASE("by mass and by volume", "[strength][gravity]") {
    // The convention of 0.791 is 0.04 % (relative) below the definition.
    const density<> beer = wash_density(4.0 * percent_mass, plato(4.0), 20.0 * degree_celsius);
    const double exact = abv_from_abw_and_density(4.0 * percent_mass, beer).value();
    CHECK(std::abs(exact - wash_abv(4.0 * percent_mass, plato(4.0)).value()) <= 1e-15);
    const double convention = abv_from_abw_by_convention(4.0 * percent_mass, wash_gravity(4.0 * percent_mass, plato(4.0))).value();
    CHECK(std::abs(convention / exact - 0.9996) <= 1e-4);
    CHECK_THROWS_AS(abv_from_abw_by_convention(101.0 * percent_mass, sg(1.0)), RangeError);
    CHECK_THROWS_AS(abv_from_abw_by_convention(4.0 * percent_mass, sg(1010.0)), RangeError);
    CHECK_THROWS_AS(abv_from_abw_and_density(4.0 * percent_mass, 1.01 * kilogram_per_cubic_metre), RangeError);
    CHECK(std::isnan(abv_by_convention::abv(0.04, 0.7)));
    CHECK(std::isnan(abv_by_density::abv(-0.04, 1000.0)));
}

TEST_CASE("the kernels take eight values at once", "[strength][gravity][lanes]") {
    Lanes og, fg;
    og << 1.000, 1.040, 1.060, 1.060, 1.080, 1.130, 1.050, not_a_number;
    fg << 1.000, 1.010, 0.996, 1.060, 0.995, 1.000, 0.980, 1.000;
    const fermented_wort<Lanes> wort = density_balance::solve(og, fg, default_yield, at_20);
    Lanes strength;
    for (int i = 0; i < 8; ++i) {
        strength[i] = wash::abv(wort.ethanol[i], wort.real_extract[i]);
    }
    const Lanes back = density_balance::original_gravity(strength, fg, default_yield, at_20);
    const Lanes duty = hmrc_226::duty_abv(hmrc_226::abv(og, fg));
    const Lanes hall = hall_1995::abv(og, fg);
    const Lanes apparent = apparent_extract_scale::extract(fg, at_20);
    const Lanes original = wort_gravity::extract(og, at_20);
    const Lanes balling = balling_alcohol_from_oe_re::abw(original, balling_real_extract::real_extract(original, apparent));
    const Lanes cutaia = cutaia_a::abw(original, apparent);
    const auto same = [](const double a, const double b) { return (std::isnan(a) && std::isnan(b)) || std::abs(a - b) <= 1e-13; };
    for (int i = 0; i < 8; ++i) {
        CAPTURE(i, og[i], fg[i]);
        const fermented_wort<double> one = density_balance::solve(og[i], fg[i], default_yield, at_20);
        CHECK(same(wort.ethanol[i], one.ethanol));
        CHECK(same(wort.real_extract[i], one.real_extract));
        CHECK(same(wort.liquid[i], one.liquid));
        CHECK((same(back[i], og[i]) || std::isnan(one.ethanol)));
        CHECK(same(duty[i], hmrc_226::duty_abv(hmrc_226::abv(og[i], fg[i]))));
        CHECK(same(hall[i], hall_1995::abv(og[i], fg[i])));
        CHECK(same(balling[i], balling_alcohol_from_oe_re::abw(original[i], balling_real_extract::real_extract(original[i], apparent[i]))));
        CHECK(same(cutaia[i], cutaia_a::abw(original[i], apparent[i])));
    }
    CHECK(std::isnan(strength[6]));  // below the wort fermented out
    CHECK(std::isnan(strength[7]));
}

// ---- methods by name, errors --------------------------------------------------------------------------------------------------------

TEST_CASE("methods go by name", "[strength][gravity]") {
    CHECK(gravity_methods.front().method == gravity_method::density_balance);
    std::set<std::string_view> names;
    for (const gravity_method_info& info : gravity_methods) {
        CAPTURE(info.name);
        CHECK(to_string(info.method) == info.name);
        CHECK(gravity_method_from_string(info.name) == info.method);
        names.insert(info.name);
        // A beer every method knows: within half a percent of the balance.
        const double strength = value_in(abv_from_gravity(sg(1.048), sg(1.010), info.method), percent_vol);
        CHECK(std::abs(strength - value_in(abv_from_gravity(sg(1.048), sg(1.010)), percent_vol)) <= 0.25);
        CHECK(std::isnan(abv_from_gravity(sg(not_a_number), sg(1.010), info.method).value()));
        CHECK(std::isnan(abv_from_gravity(sg(1.048), sg(not_a_number), info.method).value()));
        CHECK_THROWS_AS(abv_from_gravity(sg(1.01), sg(1.02), info.method), InputError);
        CHECK_THROWS_AS(abv_from_gravity(sg(1.14), sg(1.02), info.method), RangeError);
        CHECK_THROWS_AS(abv_from_gravity(sg(1048.0), sg(1.01), info.method), RangeError);
        CHECK_THROWS_AS(abv_from_gravity(sg(1.048), sg(infinite), info.method), RangeError);
        CHECK_THROWS_AS(abv_from_gravity(sg(1.048), sg(0.97), info.method), RangeError);
        CHECK_FALSE(info.from.citation.empty());
    }
    CHECK(names.size() == gravity_methods.size());
    const std::string message = message_of([] { gravity_method_from_string("guess"); });
    CHECK(contains(message, "guess"));
    for (const std::string_view name : names) {
        CHECK(contains(message, std::string(name)));
    }
    CHECK_THROWS_AS(gravity_method_from_string(""), InputError);
    CHECK_THROWS_AS(abv_from_gravity(sg(1.048), sg(1.01), static_cast<gravity_method>(99)), InputError);
}

TEST_CASE("every source is complete and named once", "[strength][gravity]") {
    std::set<std::string_view> names;
    for (const source& from : strength_gravity_sources) {
        CAPTURE(from.name);
        CHECK(names.insert(from.name).second);
        CHECK_FALSE(from.quantity.empty());
        CHECK_FALSE(from.citation.empty());
        CHECK_FALSE(from.range.empty());
        CHECK_FALSE(from.uncertainty.empty());
        const bool quoted_only = contains(std::string(from.name), "doemens") || contains(std::string(from.name), "hall");
        CHECK((from.status == source_status::secondary) == quoted_only);
    }
}

TEST_CASE("the methods agree with the chains they stand for", "[strength][gravity]") {
    const double og = 1.050, fg = 1.012;
    const double oe = wort_gravity::extract(og, at_20);
    const double ae = wort_gravity::extract(fg, at_20);
    const auto by = [&](const gravity_method method) { return abv_from_gravity(sg(og), sg(fg), method).value(); };
    const auto volume = [&](const double a) { return abv_by_convention::abv(a, fg); };
    CHECK(std::abs(by(gravity_method::balling) - volume(balling_alcohol_from_oe_re::abw(oe, balling_real_extract::real_extract(oe, ae)))) <= 1e-15);
    CHECK(std::abs(by(gravity_method::cutaia_a) - volume(cutaia_a::abw(oe, ae))) <= 1e-15);
    CHECK(std::abs(by(gravity_method::cutaia_q) - volume(balling_alcohol_from_oe_re::abw(oe, cutaia_q::real_extract(oe, ae)))) <= 1e-15);
    CHECK(std::abs(by(gravity_method::doemens_a) - volume(doemens_a::abw(oe, ae))) <= 1e-15);
    CHECK(std::abs(by(gravity_method::hall) - hall_1995::abv(og, fg)) <= 1e-15);
    CHECK(std::abs(hall_1995::abw(og, fg) - hall_1995::abv(og, fg) * hall_1995::ethanol_gravity / fg) <= 1e-15);
    CHECK(std::abs(by(gravity_method::hmrc_226) - hmrc_226_abv(sg(og), sg(fg)).value()) <= 1e-15);
    CHECK(std::abs(by(gravity_method::density_balance) - gravity_balance(sg(og), sg(fg)).strength.value()) <= 1e-15);
}

TEST_CASE("a published relation refuses what its source does not cover", "[strength][gravity][errors]") {
    // A dry distillery wash: the regressions on beer do not reach it, the balance, Balling and the factor table do.
    for (const gravity_method method : {gravity_method::cutaia_a, gravity_method::cutaia_q, gravity_method::doemens_a}) {
        const std::string message = message_of([&] { abv_from_gravity(sg(1.060), sg(0.996), method); });
        CAPTURE(message);
        CHECK(contains(message, "apparent extract -1.04"));
        CHECK(contains(message, "-0.42 to 7.86 % mass"));
    }
    for (const gravity_method method : {gravity_method::density_balance, gravity_method::balling, gravity_method::hmrc_226}) {
        const double strength = value_in(abv_from_gravity(sg(1.060), sg(0.996), method), percent_vol);
        CHECK(std::abs(strength - 8.4) <= 0.2);
    }
    CHECK_THROWS_AS(abv_from_gravity(sg(1.078), sg(1.02), gravity_method::hall), RangeError);
    CHECK_THROWS_AS(abv_from_gravity(sg(1.120), sg(1.01), gravity_method::hmrc_226), RangeError);
    CHECK(contains(message_of([] { abv_from_gravity(sg(1.02), sg(0.982), gravity_method::balling); }), "real extract below zero"));
    CHECK_THROWS_AS(alcohol_by<cutaia_b>(plato(9.0), plato(3.0)), RangeError);
    CHECK_THROWS_AS(alcohol_by<cutaia_b>(plato(12.0), plato(1.0)), RangeError);
    CHECK_THROWS_AS(alcohol_by<balling_alcohol_from_oe_re>(plato(12.0), plato(13.0)), InputError);
    CHECK_THROWS_AS(alcohol_by<cutaia_c>(plato(12.0), plato(3.0), plato(4.0)), InputError);
    CHECK_THROWS_AS(alcohol_by<doemens_c>(plato(12.0), plato(10.0), plato(4.0)), RangeError);
    CHECK_THROWS_AS(real_extract_by<doemens_q>(plato(20.0), plato(3.0)), RangeError);
    CHECK_THROWS_AS(real_extract_by_balling(plato(12.0), plato(-6.1)), RangeError);
    CHECK_THROWS_AS(original_extract_by(21.0 * percent_mass, plato(3.0)), RangeError);
    CHECK_THROWS_AS(original_extract_by<tolman_2a_plus_e>(4.0 * percent_mass, plato(-1.0)), RangeError);
    CHECK_THROWS_AS(real_degree_of_fermentation(plato(12.0), plato(13.0)), InputError);
    CHECK_THROWS_AS(real_degree_of_fermentation(plato(12.0), plato(-1.0)), RangeError);
    CHECK_THROWS_AS(tabarie_gravity(sg(0.7), sg(1.02)), RangeError);
    CHECK_THROWS_AS(alcohol_free_gravity(0.99 * kilogram_per_cubic_metre, 12.0 * percent_vol), RangeError);
    CHECK_THROWS_AS(dry_extract(980.0 * kilogram_per_cubic_metre, 5.0 * percent_vol), RangeError);
    CHECK_THROWS_AS(dry_extract(990.0 * kilogram_per_cubic_metre, 101.0 * percent_vol), RangeError);
    // The kernels say the same by NaN.
    CHECK(std::isnan(cutaia_a::abw(0.20, 0.03)));
    CHECK(std::isnan(cutaia_b::abw(0.12, 0.01)));
    CHECK(std::isnan(cutaia_c::abw(0.12, 0.03, 0.04)));
    CHECK(std::isnan(cutaia_q::real_extract(0.12, -0.01)));
    CHECK(std::isnan(cutaia_q::at(0.2)));
    CHECK(std::isnan(doemens_a::abw(0.08, 0.03)));
    CHECK(std::isnan(doemens_q::at(0.05)));
    CHECK(std::isnan(hall_1995::abv(1.07, 1.01)));
    CHECK(std::isnan(balling_real_extract::real_extract(0.05, -0.05)));
    CHECK(std::isnan(balling_alcohol_from_oe_re::abw(0.05, 0.06)));
    CHECK(std::isnan(adf::attenuation(0.12, -0.07)));
    CHECK(std::isnan(rdf_simple::attenuation(0.12, -0.01)));
    CHECK(std::isnan(tabarie_sg::gravity(0.7, 1.0)));
    CHECK(std::isnan(oiv_alcohol_free_density::gravity(0.99, 980.0)));
    CHECK(std::isnan(bringhurst_attenuation::fermentable_extract(0.12, 0.13)));
}

TEST_CASE("errors of the balance name what is possible", "[strength][gravity][errors]") {
    const std::string too_dry = message_of([] { gravity_balance(sg(1.060), sg(0.985)); });
    CAPTURE(too_dry);
    CHECK(contains(too_dry, "final gravity 0.985"));
    CHECK(contains(too_dry, format_number(least_final_gravity(sg(1.060)).value())));
    CHECK_THROWS_AS(gravity_balance(sg(1.060), sg(0.985)), RangeError);
    const std::string rising = message_of([] { gravity_balance(sg(1.020), sg(1.030)); });
    CHECK(contains(rising, "final gravity 1.03"));
    CHECK(contains(rising, "original gravity 1.02"));
    CHECK_THROWS_AS(gravity_balance(sg(1.020), sg(1.030)), InputError);
    CHECK_THROWS_AS(gravity_balance(sg(0.999), sg(0.998)), RangeError);
    CHECK_THROWS_AS(gravity_balance(sg(1.131), sg(1.010)), RangeError);
    CHECK_THROWS_AS(gravity_balance(sg(1.120), sg(1.061)), RangeError);
    CHECK_THROWS_AS(gravity_balance(sg(1.120), sg(0.979)), RangeError);
    CHECK_THROWS_AS(least_final_gravity(sg(1.2)), RangeError);
    CHECK_THROWS_AS(apparent_attenuation(sg(1.2), sg(1.0)), RangeError);
    CHECK_THROWS_AS(apparent_attenuation(sg(1.0), sg(1.01)), InputError);
    CHECK(std::isnan(apparent_attenuation(sg(1.0), sg(1.0))));

    CHECK_THROWS_AS(gravity_balance(sg(1.05), sg(1.0), fermentation_yield{0.5, 0.5, 0.1}), InputError);
    CHECK_THROWS_AS(gravity_balance(sg(1.05), sg(1.0), fermentation_yield{0.0, 0.9, 0.1}), InputError);
    CHECK_THROWS_AS(gravity_balance(sg(1.05), sg(1.0), fermentation_yield{not_a_number, 0.5, 0.1}), InputError);
    CHECK_THROWS_AS(gravity_balance(sg(1.05), sg(1.0), yield_from_ethanol(0.52)), InputError);  // more than all of a hexose can give
    CHECK_THROWS_AS(original_gravity_from_abv_fg(5.0 * percent_vol, sg(1.0), yield_from_ethanol(-0.1)), InputError);

    CHECK(contains(message_of([] { original_gravity_from_abv_fg(8.0 * percent_vol, sg(0.985)); }), "without any extract"));
    CHECK_THROWS_AS(original_gravity_from_abv_fg(15.0 * percent_vol, sg(1.05)), RangeError);
    CHECK_THROWS_AS(original_gravity_from_abv_fg(25.0 * percent_vol, sg(1.0)), RangeError);
    CHECK_THROWS_AS(original_gravity_from_abv_fg(-0.1 * percent_vol, sg(1.0)), RangeError);
    CHECK_THROWS_AS(original_gravity_from_abv_fg(5.0 * percent_vol, sg(1.07)), RangeError);
    CHECK(std::isnan(original_gravity_from_abv_fg(not_a_number * percent_vol, sg(1.0)).value()));
    CHECK(std::isnan(original_gravity_from_abv_fg(5.0 * percent_vol, sg(not_a_number)).value()));
}

TEST_CASE("not a number in, not a number out", "[strength][gravity][errors]") {
    for (const auto& [og, fg] : {std::pair{not_a_number, 1.01}, std::pair{1.05, not_a_number}, std::pair{not_a_number, not_a_number}}) {
        const FermentedWash nothing = gravity_balance(sg(og), sg(fg));
        CHECK(std::isnan(nothing.strength.value()));
        CHECK(std::isnan(nothing.strength_by_mass.value()));
        CHECK(std::isnan(nothing.original_extract.value()));
        CHECK(std::isnan(nothing.real_extract.value()));
        CHECK(std::isnan(nothing.apparent_extract.value()));
        CHECK(std::isnan(nothing.apparent_attenuation));
        CHECK(std::isnan(nothing.real_attenuation));
        CHECK(std::isnan(nothing.degree_of_fermentation));
        CHECK(std::isnan(nothing.extract_consumed));
        CHECK(std::isnan(nothing.carbon_dioxide));
        CHECK(std::isnan(nothing.yeast));
        CHECK(std::isnan(nothing.liquid));
    }
    CHECK(std::isnan(alcohol_by<cutaia_a>(plato(not_a_number), plato(3.0)).value()));
    CHECK(std::isnan(alcohol_by<cutaia_c>(plato(12.0), plato(not_a_number), plato(3.0)).value()));
    CHECK(std::isnan(real_extract_by_balling(plato(12.0), plato(not_a_number)).value()));
    CHECK(std::isnan(original_extract_by(not_a_number * percent_mass, plato(3.0)).value()));
    CHECK(std::isnan(tabarie_gravity(sg(not_a_number), sg(1.0)).value()));
    CHECK(std::isnan(alcohol_free_gravity(990.0 * kilogram_per_cubic_metre, not_a_number * percent_vol).value()));
    CHECK(std::isnan(dry_extract(not_a_number * kilogram_per_cubic_metre, 12.0 * percent_vol).value()));
    CHECK(std::isnan(dry_extract(990.0 * kilogram_per_cubic_metre, not_a_number * percent_vol).value()));
    CHECK(std::isnan(least_final_gravity(sg(not_a_number)).value()));
    CHECK(std::isnan(apparent_extract(sg(not_a_number)).value()));
    CHECK(std::isnan(hmrc_226_abv(sg(1.05), sg(not_a_number)).value()));
}
