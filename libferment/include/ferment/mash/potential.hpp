#pragma once
// What a bill can give: extract, the gravity it would have if all of it were dissolved at once, and pure alcohol, each with its doubt.

#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/mash/bill.hpp>
#include <string>
#include <vector>

namespace ferment {

inline constexpr double pound_kg = 0.45359237;      // international yard and pound agreement 1959, exact
inline constexpr double us_gallon_l = 3.785411784;  // 231 cubic inches, exact
inline constexpr double litres_per_cubic_metre = 1000.0;
inline constexpr double kilograms_per_tonne = 1000.0;

/// Points per pound per US gallon in one litre-degree per kg: an exact ratio, 0.1198264273.
inline constexpr double points_per_litre_degree = pound_kg / us_gallon_l;

/// The strength of wort at which litre-degrees are stated: they fall slowly with strength (386.3 at 2 %, 385.2 at 10 %, 383.6 at 20 %).
inline constexpr double litre_degree_reference_extract = 0.10;  // mass fraction

/// Litre-degrees that one kg of dissolved extract gives in wort of strength w: degrees of gravity times litres of wort.
///   w    extract as a mass fraction    0 < w <= 0.70
///   ->   L.deg/kg; NaN outside the range. Source: icumsa_sps4, gravity 20/20, litres at 20 degC.
template <class T>
constexpr T litre_degrees_of_extract(const T& w) {
    const gravity_frame frame{};
    const T sg = wort_gravity::from_extract(w, frame);
    return points_per_gravity * (sg - 1.0) * litres_per_cubic_metre / wort_gravity::grams_per_litre(w, T(0.0 * w + icumsa_sps4::reference_c));
}

inline constexpr source litre_degrees{
    "litre_degrees",
    "litre-degrees per kg and points per pound per US gallon",
    "definition: (SG 20/20 - 1) x 1000 x litres of wort per kg; sucrose density of ICUMSA SPS-4; The Oxford Companion to Beer, 2011, liter degrees per "
    "kilogram",
    "stated at 10 % extract: 385.16 L.deg per kg of extract",
    "0.4 % if used at 2 to 20 % extract; the customary 386 and 46.2 are conventions that differ by 0.2 %",
};

/// Extract of a malt or cereal from the standard laboratory mash: 50 g made up with water to 450 g.
struct laboratory_mash {
    static constexpr source from{
        "laboratory_mash",
        "extract of malt from the strength of the laboratory wort [mass fraction of the malt as is]",
        "mass balance of the Congress mash, E = P (800 + M)/(100 - P), as EBC 4.5.1 and ASBC Malt-4 are generally quoted",
        "0 <= wort extract < 70 %, 0 <= moisture < 100 %",
        "formula only; the text of the standards was not read",
        source_status::from_memory,
    };
    static constexpr double water_per_malt = 8.0;  // 400 g water to 50 g malt

    /// Extract of the malt as is.
    ///   p    extract of the laboratory wort, mass fraction   0 <= p <= 0.70
    ///   m    moisture of the malt, mass fraction             0 <= m < 1
    ///   ->   kg extract per kg malt; NaN outside
    template <class T>
    static constexpr T extract_as_is(const T& p, const T& m) {
        return num::keep_if(num::inside(p, icumsa_sps4::extract_range) && num::inside(m, {0.0, 1.0}), T(p * (water_per_malt + m) / (1.0 - p)));
    }
    /// The same per kg of dry matter.
    template <class T>
    static constexpr T extract_dry(const T& p, const T& m) {
        return extract_as_is(p, m) / (1.0 - m);
    }
};

/// The kilograms of a bill that matter for the balance.
template <class T>
struct mash_masses {
    T starch{};
    T sugars{};
    T hexose_of_sugars{};  ///< what the sugars weigh once their disaccharides are split
    T moisture{};
    T rest{};  ///< dry matter that is neither starch nor sugar
};

/// A mash or wash at some stage, in kg. Every kilogram that went in is in one of these.
template <class T>
struct wash_masses {
    T water{};
    T ethanol{};
    T extract{};           ///< dissolved: standing sugar, dissolved by-products, solubles of the grain
    T carbon_dioxide{};    ///< gone
    T starch{};            ///< not converted
    T insoluble{};         ///< the undissolved rest of the grain, and yeast
    T hydrolysis_water{};  ///< for information: bound so far in splitting starch and disaccharides; counted in what they became
    T by_products{};       ///< for information: glycerol, acids, yeast; counted in extract and insoluble

    [[nodiscard]] T liquid() const { return water + ethanol + extract; }
    [[nodiscard]] T total() const { return liquid() + carbon_dioxide + starch + insoluble; }
};

/// The mass balance of mash and fermentation; everything about yield goes through it.
struct mash_balance {
    /// The stage of a mash.
    ///   in           kg, see mash_masses
    ///   water        kg added
    ///   conversion   share of the starch that has become glucose, 0 to 1
    ///   fermented    share of all sugar, converted and free, that the yeast has taken, 0 to 1
    ///   efficiency   share of the sugar taken that became ethanol and CO2 in the ratio of glucose -> 2 ethanol + 2 CO2; the rest became by-products
    ///   dissolved    share of the by-products that stays in solution (glycerol, acids); yeast does not
    ///   soluble      share of the grain's rest that dissolves
    template <class T>
    static wash_masses<T> stage(const mash_masses<T>& in, const T& water, const T& conversion, const T& fermented, const T& efficiency, const T& dissolved,
                                const T& soluble) {
        using ratio = stoichiometry;
        wash_masses<T> out;
        const T converted = in.starch * conversion;
        const T glucose = converted * ratio::glucose_per_starch;
        const T taken = fermented * (glucose + in.hexose_of_sugars);
        const T solubles = soluble * in.rest;
        out.hydrolysis_water = converted * ratio::water_per_starch + fermented * (in.hexose_of_sugars - in.sugars);
        out.by_products = taken * (1.0 - efficiency);
        out.water = water + in.moisture - out.hydrolysis_water;
        out.ethanol = taken * efficiency * ratio::ethanol_per_glucose;
        out.carbon_dioxide = taken * efficiency * ratio::co2_per_glucose;
        out.extract = (1.0 - fermented) * (glucose + in.sugars) + dissolved * out.by_products + solubles;
        out.starch = in.starch - converted;
        out.insoluble = (in.rest - solubles) + (1.0 - dissolved) * out.by_products;
        return out;
    }
};

/// What is assumed about enzymes and yeast. fermentation/end_point.hpp has the numbers for a no-cook wash.
struct Assumptions {
    measured conversion;               ///< share of the starch that becomes glucose
    measured fermentation_efficiency;  ///< share of the sugar that becomes ethanol and CO2
    /// Share of the dry matter that is neither starch nor sugar and yet dissolves (protein, gums, minerals). Common practice, no source:
    /// raw cereals about a fifth; the printed extract of malt, 82 % dry, implies a quarter.
    measured soluble_share_of_rest{0.20, 0.08};
};

/// What one grain, or the whole bill, gives for its weight.
struct GrainPotential {
    std::string name;
    double mass_kg = 0.0;
    Uncertain extract_as_is;                 ///< kg of dissolved extract per kg as weighed
    Uncertain extract_dry;                   ///< the same per kg of dry matter
    Uncertain litre_degrees_per_kg;          ///< at 10 % extract, see litre_degrees
    Uncertain points_per_pound_per_gallon;   ///< the same in points per pound per US gallon
    Uncertain pure_alcohol_l;                ///< litres at 20 degC
    Uncertain pure_alcohol_l_per_tonne;      ///< as weighed
    Uncertain pure_alcohol_l_per_tonne_dry;  ///< dry matter
};

/// What a bill gives at one conversion and one efficiency.
struct Yield {
    Uncertain conversion;
    Uncertain fermentation_efficiency;
    Uncertain starch_converted_kg;
    Uncertain hydrolysis_water_kg;  ///< bound when the starch is split
    Uncertain hexose_kg;            ///< all fermentable sugar, as hexose
    Uncertain extract_kg;           ///< glucose of the starch, free sugars as they are, solubles of the grain
    Uncertain extract;              ///< mass fraction of the equivalent wort: all extract in all the water; the Plato scale / 100
    Uncertain original_gravity;     ///< equivalent original gravity 20/20, on the sucrose scale that hydrometers have
    Uncertain glucose_gravity;      ///< the same if all extract weighed as glucose does; NaN above 60 % extract
    Uncertain ethanol_kg;
    Uncertain pure_alcohol_l;  ///< at 20 degC
    Uncertain co2_kg;
    Uncertain by_products_kg;
    GrainPotential bill;                 ///< all grain together
    std::vector<GrainPotential> grains;  ///< each line of the bill
};

/// The potential of a bill in its water.
struct Potential {
    double grain_kg = 0.0;
    double water_kg = 0.0;  ///< added
    mash_masses<Uncertain> masses;
    Uncertain conversion;
    Uncertain fermentation_efficiency;
    Uncertain soluble_share_of_rest;
    Yield theoretical;  ///< all starch converted, all sugar to ethanol and CO2
    Yield expected;     ///< as assumed
};

namespace detail {

inline void require_share(const std::string& what, const measured& share) {
    constexpr num::interval range{0.0, 1.0};
    if (std::isnan(share.value) || !std::isfinite(share.standard_uncertainty) || share.standard_uncertainty < 0.0) {
        throw InputError(what + " needs a value and a standard uncertainty, in %; got " + format_number(percent * share.value) + " and " +
                         format_number(percent * share.standard_uncertainty));
    }
    require_inside(what, percent * share.value, "%", {percent * range.lower, percent * range.upper}, "a share of the whole");
    require_inside("standard uncertainty of " + what, percent * share.standard_uncertainty, "%", {percent * range.lower, percent * range.upper},
                   "a share of the whole");
}

inline mash_masses<Uncertain> masses_of(const BillItem& item) {
    const Grain& g = item.grain;
    const double kg = item.weight.value();
    const auto part = [&](const measured& x, const char* what) { return kg * x.as_input(std::string(what) + " of " + g.name); };
    mash_masses<Uncertain> m;
    m.moisture = part(g.moisture, "moisture");
    m.starch = part(g.starch, "starch");
    m.sugars = part(g.sugars, "sugars");
    m.hexose_of_sugars = m.sugars * g.hexose_per_sugar();
    m.rest = kg - m.moisture - m.starch - m.sugars;  // weighed together: what one part has more, the rest has less
    return m;
}

inline mash_masses<Uncertain> operator+(const mash_masses<Uncertain>& a, const mash_masses<Uncertain>& b) {
    return {a.starch + b.starch, a.sugars + b.sugars, a.hexose_of_sugars + b.hexose_of_sugars, a.moisture + b.moisture, a.rest + b.rest};
}

inline Uncertain pure_alcohol_litres(const Uncertain& ethanol_kg) {
    return ethanol_kg * (litres_per_cubic_metre / volume_at_20c::ethanol_density);
}

/// Nothing fermented, and everything: the two stages from which a yield is read.
struct yield_stages {
    wash_masses<Uncertain> wort;
    wash_masses<Uncertain> wash;
};

inline yield_stages stages_of(const mash_masses<Uncertain>& m, const double water, const Uncertain& conversion, const Uncertain& efficiency,
                              const Uncertain& soluble) {
    const Uncertain none(0.0);
    const Uncertain all(1.0);
    return {mash_balance::stage<Uncertain>(m, water, conversion, none, efficiency, none, soluble),
            mash_balance::stage<Uncertain>(m, water, conversion, all, efficiency, none, soluble)};
}

inline GrainPotential grain_potential(const std::string& name, const double kg, const mash_masses<Uncertain>& m, const yield_stages& at) {
    constexpr double per_extract = litre_degrees_of_extract(litre_degree_reference_extract);
    GrainPotential p;
    p.name = name;
    p.mass_kg = kg;
    const Uncertain dry = kg - m.moisture;
    p.extract_as_is = at.wort.extract / kg;
    p.extract_dry = at.wort.extract / dry;
    p.litre_degrees_per_kg = p.extract_as_is * per_extract;
    p.points_per_pound_per_gallon = p.litre_degrees_per_kg * points_per_litre_degree;
    p.pure_alcohol_l = pure_alcohol_litres(at.wash.ethanol);
    p.pure_alcohol_l_per_tonne = p.pure_alcohol_l * (kilograms_per_tonne / kg);
    p.pure_alcohol_l_per_tonne_dry = p.pure_alcohol_l * kilograms_per_tonne / dry;
    return p;
}

inline Yield yield_of(const Bill& bill, const std::vector<mash_masses<Uncertain>>& parts, const mash_masses<Uncertain>& all, const double water,
                      const Uncertain& conversion, const Uncertain& efficiency, const Uncertain& soluble) {
    const yield_stages at = stages_of(all, water, conversion, efficiency, soluble);
    Yield y;
    y.conversion = conversion;
    y.fermentation_efficiency = efficiency;
    y.starch_converted_kg = all.starch * conversion;
    y.hydrolysis_water_kg = at.wort.hydrolysis_water;
    y.hexose_kg = y.starch_converted_kg * stoichiometry::glucose_per_starch + all.hexose_of_sugars;
    y.extract_kg = at.wort.extract;
    y.extract = at.wort.extract / at.wort.liquid();
    require_inside("extract of the equivalent wort", percent * y.extract.value(), "%", {0.0, percent * icumsa_sps4::extract_range.upper},
                   "add water: this much extract does not dissolve in " + format_quantity(at.wort.water.value(), "kg") + " of it");
    y.original_gravity = wort_gravity::from_extract(y.extract, gravity_frame{});
    y.glucose_gravity = crc_glucose::density(y.extract) / icumsa_sps4::water(icumsa_sps4::reference_c);
    y.ethanol_kg = at.wash.ethanol;
    y.pure_alcohol_l = pure_alcohol_litres(at.wash.ethanol);
    y.co2_kg = at.wash.carbon_dioxide;
    y.by_products_kg = at.wash.by_products;
    y.bill = grain_potential("all grain", bill.total().value(), all, at);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const BillItem& item = bill.items()[i];
        y.grains.push_back(grain_potential(item.grain.name, item.weight.value(), parts[i], stages_of(parts[i], 0.0, conversion, efficiency, soluble)));
    }
    return y;
}

}  // namespace detail

/// What a bill can give in its water.
///   bill          at least one grain
///   water         kg added, zero or more
///   assumptions   conversion, fermentation efficiency, soluble share: each 0 to 100 % with its standard uncertainty
///   ->            theoretical and expected yields; every Uncertain holds its budget by input
/// Throws InputError for an empty bill or what is no number, RangeError outside the ranges and where the extract would not dissolve (above 70 %).
/// Source: stoichiometry; icumsa_sps4 for gravities; oiml_r22 for the density of ethanol.
inline Potential potential(const Bill& bill, const mass<>& water, const Assumptions& assumptions) {
    detail::require_grain(bill);
    const double kg = water.value();
    if (!std::isfinite(kg)) {
        throw InputError("mass of water must be a finite number of kg, zero or more");
    }
    if (kg < 0.0) {
        throw RangeError("mass of water " + format_quantity(kg, "kg") + " must be zero or more");
    }
    detail::require_workable("mass of water", kg, "kg");
    detail::require_share("conversion", assumptions.conversion);
    detail::require_share("fermentation efficiency", assumptions.fermentation_efficiency);
    detail::require_share("soluble share of the rest", assumptions.soluble_share_of_rest);

    Potential p;
    p.grain_kg = bill.total().value();
    p.water_kg = kg;
    p.conversion = assumptions.conversion.as_input("conversion");
    p.fermentation_efficiency = assumptions.fermentation_efficiency.as_input("fermentation efficiency");
    p.soluble_share_of_rest = assumptions.soluble_share_of_rest.as_input("soluble share of the rest");
    std::vector<mash_masses<Uncertain>> parts;
    for (const BillItem& item : bill.items()) {
        parts.push_back(detail::masses_of(item));
        p.masses = detail::operator+(p.masses, parts.back());
    }
    const Uncertain all(1.0);
    p.theoretical = detail::yield_of(bill, parts, p.masses, kg, all, all, p.soluble_share_of_rest);
    p.expected = detail::yield_of(bill, parts, p.masses, kg, p.conversion, p.fermentation_efficiency, p.soluble_share_of_rest);
    return p;
}

/// The same with the water by volume at its temperature, 0 to 100 degC.
inline Potential potential(const Bill& bill, const volume<>& water, const celsius<>& temperature, const Assumptions& assumptions) {
    return potential(bill, mass<>::from_value(water.value() * water_density(temperature).value()), assumptions);
}

}  // namespace ferment
