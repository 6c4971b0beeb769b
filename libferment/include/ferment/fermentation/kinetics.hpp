#pragma once
// The rates of a no-cook fermentation: raw starch -> sugar -> ethanol, with every number's unit, source and spread.
//
//   starch that will dissolve = fast + slow         each goes as first order: rate = k(T) x enzyme x inhibition x what is left
//   sugar                    += 1.111 x dissolved starch - taken
//   taken                     = uptake(T) x yeast x sugar/(sugar + half saturation) x (1 - ethanol/tolerance)
//   yeast                    += growth yield x taken - death(T)
//
// What was published about raw starch fixes one overall rate near 30 degC, the ratio of a fast to a slow rate, and the final conversion.
// Everything else below is a prior: a median with a spread, so that what is not known shows up in the width of a forecast.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <string>
#include <string_view>

namespace ferment {

/// The parameters that a forecast draws and a fit adjusts. The order is that of `kinetic_table`.
namespace kinetic {
enum index : std::size_t {
    starch_content,
    soluble_share,
    conversion_limit,
    fermentation_yield,
    dissolved_share,
    hydrolysis_rate,
    hydrolysis_activation_energy,
    fast_share,
    fast_rate_ratio,
    glucose_inhibition,
    enzyme_decay,
    dose_exponent,
    uptake_rate,
    temperature_exponent,
    ethanol_tolerance,
    growth_yield,
    growth_limit,
    death_rate,
    pitched_activity,
    lag,
    heat_loss,
    ambient_offset,
    count
};
}  // namespace kinetic

/// How a parameter varies: z = 0 is its median, z = 1 one spread above.
///   normal   median + spread z
///   log      median exp(spread z): for what is positive
///   logit    the same on the odds: for shares between 0 and 1
enum class spread_scale { normal, log, logit };

constexpr std::string_view to_string(const spread_scale s) {
    switch (s) {
        case spread_scale::normal: return "normal";
        case spread_scale::log: return "log";
        case spread_scale::logit: return "logit";
    }
    return "unknown";
}

/// Whether the published courses fix a parameter or leave it to its prior.
///   fitted   adjusted to published courses
///   grain    the batch's own: from its bill and assumptions
///   prior    taken over from another model, or an estimate
enum class evidence { fitted, grain, prior };

constexpr std::string_view to_string(const evidence e) {
    switch (e) {
        case evidence::fitted: return "fitted";
        case evidence::grain: return "grain";
        case evidence::prior: return "prior";
    }
    return "unknown";
}

/// One parameter with its prior.
struct kinetic_parameter {
    std::string_view name;
    std::string_view unit;
    double median;
    double spread;  ///< one standard deviation on its scale
    spread_scale scale;
    evidence from;
    source_status status;
    std::string_view basis;  ///< where median and spread come from

    /// The value z spreads away from the median.
    template <class T>
    [[nodiscard]] T at(const T& z) const {
        using std::exp;
        switch (scale) {
            case spread_scale::normal: return T(median + spread * z);
            case spread_scale::log: return T(median * exp(T(spread * z)));
            case spread_scale::logit: return T(1.0 / (1.0 + (1.0 - median) / median * exp(T(-spread * z))));
        }
        return T(median + 0.0 * z);
    }
};

// clang-format off
/// Every parameter. Rates are at 30 degC unless the name of the parameter's basis says otherwise; g/kg is grams per kg of liquid.
inline constexpr std::array<kinetic_parameter, kinetic::count> kinetic_table{{
    {"starch_content", "of the bill's", 1.0, 0.04, spread_scale::log, evidence::grain, source_status::verified,
        "the grain table or the lot's certificate; each batch brings its own spread"},
    {"soluble_share", "-", 0.20, 0.5, spread_scale::logit, evidence::grain, source_status::common_practice,
        "share of the grain's rest that dissolves, 20 +- 8 %"},
    {"conversion_limit", "-", 0.884, 0.38, spread_scale::logit, evidence::grain, source_status::verified,
        "no_cook end points: share of the starch that enzymes reach, 88.4 +- 3.9 %"},
    {"fermentation_yield", "-", 0.959, 0.38, spread_scale::logit, evidence::grain, source_status::verified,
        "fermentation efficiency, 95.9 +- 1.5 %"},
    {"dissolved_share", "-", 0.765, 0.8, spread_scale::logit, evidence::grain, source_status::verified,
        "share of the by-products that stays dissolved, 76 +- 15 %"},
    {"hydrolysis_rate", "1/h", 0.058, 0.45, spread_scale::log, evidence::fitted, source_status::verified,
        "raw starch at 30 degC and full dose: geometric mean of 0.056, 0.087 and 0.040 (Li et al. 2014; Weller et al. 1984; Fujio et al. 1985)"},
    {"hydrolysis_activation_energy", "kJ/mol", 50.0, 15.0, spread_scale::normal, evidence::prior, source_status::from_memory,
        "amylases on starch, 35 to 65 kJ/mol; nothing was published for raw granules below 28 degC"},
    {"fast_share", "of the form's odds", 0.5, 0.8, spread_scale::logit, evidence::prior, source_status::common_practice,
        "scatter about the share of starch_form; 0.5 leaves it as it is"},
    {"fast_rate_ratio", "-", 6.0, 0.31, spread_scale::log, evidence::fitted, source_status::verified,
        "swollen against native maize granules, glucose after 4 h and after 24 h: Li, Cai, Gu, Shi 2014, J. Agric. Food Chem. 62"},
    {"glucose_inhibition", "g/kg", 20.0, 1.0, spread_scale::log, evidence::prior, source_status::from_memory,
        "0.5 to 20 g/L over the literature for glucoamylase; one study finds none (Dona et al. 2011, Carbohydr. Polym.)"},
    {"enzyme_decay", "1/h", 0.0015, 0.8, spread_scale::log, evidence::prior, source_status::from_memory,
        "half-life of weeks at 30 degC"},
    {"dose_exponent", "-", 0.75, 0.25, spread_scale::log, evidence::prior, source_status::from_memory,
        "rate against enzyme dose: between proportional and the square root, as for enzymes on solids"},
    {"uptake_rate", "g/(g h)", 2.3, 0.26, spread_scale::log, evidence::fitted, source_status::verified,
        "sugar per dry yeast at the best temperature: dense suspension on sugar, Oliveira et al. 2016, J. Bioprocess. Biotech. 6:266"},
    {"temperature_exponent", "-", 1.0, 0.15, spread_scale::log, evidence::prior, source_status::verified,
        "on the cardinal temperature model (Salvado et al. 2011); Arrhenius with 34.96 kJ/mol (Phisalaphong et al. 2006) agrees within 7 % from 20 to 32 degC"},
    {"ethanol_tolerance", "g/kg", 160.0, 0.15, spread_scale::log, evidence::prior, source_status::secondary,
        "ethanol at which uptake stops: 108 g/L in Oliveira et al. 1998, 23.8 % vol or 188 g/L the most reported of a batch (review table, wheat at 20 degC)"},
    {"growth_yield", "g/g", 0.08, 0.35, spread_scale::log, evidence::prior, source_status::verified,
        "dry yeast per sugar: 0.06 Oliveira et al. 2016, 0.15 Warren, Hill, Macdonald 1990, Biotechnol. Prog. 6:319"},
    {"growth_limit", "g/kg", 4.0, 0.4, spread_scale::log, evidence::prior, source_status::verified,
        "dry yeast that the grain's own nitrogen allows: wheat at 20 degC done in 8 d, in 3 d with yeast extract (Thomas, Ingledew 1990)"},
    {"death_rate", "1/h", 0.002, 0.8, spread_scale::log, evidence::prior, source_status::from_memory,
        "pre-factor from memory; 177.7 kJ/mol: Phisalaphong et al. 2006, Biochem. Eng. J. 28:36"},
    {"pitched_activity", "-", 0.8, 0.3, spread_scale::log, evidence::prior, source_status::common_practice,
        "live share of the yeast as pitched"},
    {"lag", "h", 2.8, 0.5, spread_scale::log, evidence::prior, source_status::secondary,
        "at the best temperature; distillers yeast in malt wort 6 h at 20 degC, 2.8 h at 25 degC (J. Inst. Brewing, attributed to Merritt 1966)"},
    {"heat_loss", "of the vessel's", 1.0, 0.3, spread_scale::log, evidence::prior, source_status::common_practice,
        "heat transfer of vessels in still air"},
    {"ambient_offset", "K", 0.0, 1.0, spread_scale::normal, evidence::prior, source_status::common_practice,
        "what a thermometer elsewhere in the room is off"},
}};
// clang-format on

/// The names of all parameters, for messages.
inline std::string parameter_names() {
    std::string names;
    for (const kinetic_parameter& p : kinetic_table) {
        names.append(names.empty() ? "" : ", ").append(p.name);
    }
    return names;
}

/// A value for every parameter, in the order of kinetic_table.
template <class T>
using kinetic_values = std::array<T, kinetic::count>;

/// Starch of a form that enzymes reach as fast as if it were gelatinised.
struct starch_form {
    std::string_view form;
    double fast_share;
};

/// How open the starch of a grain is to enzymes. Milling breaks some granules, steam and rollers swell many; bread is all gelatinised.
struct starch_forms {
    static constexpr source from{
        "starch_forms",
        "share of the starch that is dissolved at the fast rate",
        "from memory: damaged starch of flours 5 to 12 %; flakes are steamed and rolled; the order is that of the forms, the figures are estimates",
        "milled or rolled cereal; whole kernels are not a mash",
        "a factor of about two in the odds, see fast_share",
        source_status::from_memory,
    };
    static constexpr std::array<starch_form, 10> rows{{
        {"grain", 0.08},  // milled whole
        {"grits", 0.06},
        {"flour", 0.12},
        {"rolled", 0.20},       // cold rollers
        {"flakes", 0.40},       // steamed
        {"gelatinised", 0.95},  // cooked, baked, puffed
        {"malt", 0.15},
        {"root", 0.06},  // dried and milled
        {"starch", 0.05},
        {"sugar", 0.05},  // holds none, but a table may say so of a syrup with dextrin
    }};

    /// The share of a form. Throws InputError for a form that is not listed, naming those that are.
    static double fast_share(const std::string_view form, const std::string_view grain) {
        std::string known;
        for (const starch_form& row : rows) {
            if (row.form == form) {
                return row.fast_share;
            }
            known.append(known.empty() ? "" : ", ").append(row.form);
        }
        throw InputError("form of " + shortened(grain) + " is " + in_quotes(form) + "; known forms are " + known);
    }
};

/// How yeast and enzymes respond to temperature and to what surrounds them.
struct no_cook_kinetics {
    static constexpr source from{
        "no_cook_kinetics",
        "course of a fermentation of raw starch",
        "first-order attack on two fractions of granules as Textor, Hill, Macdonald, St. Denis 1998, Can. J. Chem. Eng. 76:87-93; Monod uptake with linear "
        "ethanol inhibition as Oliveira et al. 1998, Appl. Biochem. Biotechnol. 74:161-172; see kinetic_table",
        "milled or flaked cereal; fitted at 30 to 35 degC, nothing was published on raw granules below 28 degC; computed for a mash of 0 to 45 degC",
        "the width of a forecast; validation in docs/no_cook_model.md",
    };
    static constexpr source temperature_from{
        "cardinal_temperature_model",
        "rate of yeast against temperature, 1 at the best temperature",
        "Rosso, Lobry, Flandrois 1993, J. Theor. Biol. 162:447 (equation); Salvado et al. 2011, Appl. Environ. Microbiol. 77:2292-2302 (32.3 and 45.4 degC, "
        "Saccharomyces cerevisiae; least temperature 1.3 to 4.3 degC over the genus)",
        "2.8 to 45.4 degC, zero outside",
        "7 % against Arrhenius with 34.96 kJ/mol of Phisalaphong et al. 2006, 20 to 32 degC, with the best common factor",
    };
    static constexpr double gas_constant = 8.314462618e-3;  // kJ/(mol K), SI 2019
    static constexpr double zero_celsius_k = 273.15;
    static constexpr double reference_c = 30.0;  // of the rates in kinetic_table

    // Cardinal temperatures of yeast, degC; the least is the middle of the range over the genus.
    static constexpr double least_c = 0.5 * (1.3 + 4.3), best_c = 32.3, greatest_c = 45.4;
    static constexpr double half_saturation = 2.81;           // g/kg of sugar; Oliveira et al. 1998
    static constexpr double growth_stop = 82.8;               // g/kg of ethanol; Oliveira et al. 1998
    static constexpr double death_activation_energy = 177.7;  // kJ/mol; Phisalaphong et al. 2006
    static constexpr double decay_activation_energy = 200.0;  // kJ/mol, from memory: unfolding of mould amylases

    /// Arrhenius factor against reference_c.
    ///   t    degC
    ///   ea   activation energy, kJ/mol
    template <class T, class E>
    static T arrhenius(const T& t, const E& ea) {
        using std::exp;
        const T inverse = (1.0 / (t + zero_celsius_k) - 1.0 / (reference_c + zero_celsius_k)) * (-1.0 / gas_constant);
        return exp(T(ea * inverse));
    }

    /// Cardinal temperature model with inflection: 0 to 1, zero where yeast does not work.
    ///   t   degC
    template <class T>
    static T cardinal(const T& t) {
        const T rise = t - least_c;
        const T above = (best_c - least_c) * (t - best_c) - (best_c - greatest_c) * (best_c + least_c - 2.0 * t);
        const T value = (t - greatest_c) * rise * rise / ((best_c - least_c) * above);
        return num::select(num::inside(t, {least_c, greatest_c}), value, T(0.0 * t));
    }

    /// x where positive, else zero: a rate that has stopped does not run backwards.
    template <class T>
    static T positive(const T& x) {
        return num::select(x > 0.0, x, T(0.0 * x));
    }
};

/// What the rates of one moment depend on. Concentrations in g per kg of liquid; shares 0 to 1.
template <class T>
struct moment {
    T sugar{};  ///< free, as hexose
    T ethanol{};
    T yeast{};        ///< alive, dry
    T grown{};        ///< all yeast that ever grew, dry
    T adapted{};      ///< share of the yeast over its lag
    T enzyme{};       ///< share of the enzyme not decayed
    T temperature{};  ///< degC
};

/// The rates of one moment.
template <class T>
struct moment_rates {
    T slow{};          ///< of the slow starch, 1/h
    T fast{};          ///< of the fast starch, 1/h
    T uptake{};        ///< hexose taken, g/(kg h)
    T growth{};        ///< yeast, g/(kg h)
    T death{};         ///< yeast, 1/h
    T adaptation{};    ///< of the yeast not yet adapted, 1/h
    T enzyme_decay{};  ///< 1/h
};

/// The rate of the enzyme against that of the full dose; it does not change in time.
///   p      see kinetic_table
///   dose   enzyme, 1 = what its maker states for uncooked grain; 0 or more
template <class T>
T dose_factor(const kinetic_values<T>& p, const double dose) {
    using std::pow;
    const T exponent = p[kinetic::dose_exponent];
    return pow(T(dose + 0.0 * exponent), exponent);
}

/// The rates of a no-cook fermentation.
///   m           see moment
///   p           see kinetic_table
///   dose        see dose_factor
///   nutrients   factor on the yeast that can grow; 1 = the grain's own nitrogen
template <class T>
moment_rates<T> rates_at_dose(const moment<T>& m, const kinetic_values<T>& p, const T& dose, const double nutrients) {
    using std::pow;
    using k = no_cook_kinetics;
    moment_rates<T> r;
    const T enzyme = m.enzyme * dose / (1.0 + k::positive(m.sugar) / p[kinetic::glucose_inhibition]);
    r.slow = p[kinetic::hydrolysis_rate] * k::arrhenius(m.temperature, p[kinetic::hydrolysis_activation_energy]) * enzyme;
    r.fast = r.slow * p[kinetic::fast_rate_ratio];
    const T warmth = pow(k::cardinal(m.temperature), p[kinetic::temperature_exponent]);
    const T sugar = k::positive(m.sugar);
    r.uptake = p[kinetic::uptake_rate] * warmth * m.yeast * m.adapted * sugar / (sugar + k::half_saturation) *
               k::positive(T(1.0 - m.ethanol / p[kinetic::ethanol_tolerance]));
    r.growth = p[kinetic::growth_yield] * r.uptake * k::positive(T(1.0 - m.ethanol / k::growth_stop)) *
               k::positive(T(1.0 - m.grown / (nutrients * p[kinetic::growth_limit])));
    r.death = p[kinetic::death_rate] * k::arrhenius(m.temperature, k::death_activation_energy);
    r.adaptation = warmth / p[kinetic::lag];
    r.enzyme_decay = p[kinetic::enzyme_decay] * k::arrhenius(m.temperature, k::decay_activation_energy);
    return r;
}

/// The same for a dose of enzyme.
template <class T>
moment_rates<T> rates(const moment<T>& m, const kinetic_values<T>& p, const double dose, const double nutrients) {
    return rates_at_dose(m, p, dose_factor(p, dose), nutrients);
}

}  // namespace ferment
