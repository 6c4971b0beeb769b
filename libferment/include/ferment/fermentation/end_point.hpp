#pragma once
// Where a no-cook fermentation ends: conversion and efficiency as published numbers with their spread, and the wash they leave.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/source.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/mash/potential.hpp>
#include <string_view>

namespace ferment {

/// One published result.
struct published_share {
    std::string_view what;
    double value;  ///< share, 0 to 1
};

/// Mean and sample standard deviation of published results: the spread between works, not the doubt of their mean.
template <std::size_t N>
measured mean_and_spread(const std::array<published_share, N>& rows) {
    static_assert(N > 1);
    double sum = 0.0;
    for (const published_share& row : rows) {
        sum += row.value;
    }
    const double mean = sum / static_cast<double>(N);
    double squares = 0.0;
    for (const published_share& row : rows) {
        squares += (row.value - mean) * (row.value - mean);
    }
    return {mean, std::sqrt(squares / static_cast<double>(N - 1))};
}

/// End points of fermentations of raw starch with enough enzyme.
///
/// "Per cent of theoretical ethanol" is one number for enzymes and yeast together: overall = conversion x fermentation efficiency. The overall
/// result and the efficiency are published; the conversion is their quotient, so that nothing is counted twice. Its spread is what the
/// efficiency does not explain, so that the product has the published spread.
struct no_cook {
    static constexpr source from{
        "no_cook_end_points",
        "raw-starch fermentation: ethanol made, share of the theoretical",
        "Chu-Ky et al. 2016, Food Bioprod. Process. 98:79-85; Fujio et al. 1984, Biotechnol. Bioeng. 26(4); Fujio, Ogata, Ueda 1985, Biotechnol. Bioeng. 27; "
        "Weller, Steinberg, Rodda 1984, Trans. ASAE 27:1911-1916; Shigechi et al. 2004, Appl. Environ. Microbiol. 70:5037 (abstracts)",
        "28 to 35 degC, 3 to 5 days, milled grain or root starch, enzyme of koji, mould or yeast in plenty; nothing was found below 28 degC",
        "spread between works: 84.8 % with a standard deviation of 4.0",
    };
    static constexpr source efficiency_from{
        "fermentation_efficiency",
        "share of the sugar taken that becomes ethanol and CO2",
        "classic balance, Weihenstephan lecture notes 4.2 (48.4 g per 100 g glucose); Zentou et al. 2021, ACS Omega (by-products 0.0442 g/g); "
        "Barcelos et al. 2011, Braz. J. Chem. Eng. 28:597 (0.499 g/g)",
        "clean fermentations of glucose and hydrolysate; lactic bacteria take more",
        "spread between works: 95.9 % with a standard deviation of 1.5",
    };

    /// Share of the theoretical ethanol, raw starch.
    static constexpr std::array<published_share, 6> overall_rows{{
        {"broken rice flour, granular-starch enzymes, 120 h, laboratory: Chu-Ky et al. 2016", 0.863},
        {"the same, 25 L: Chu-Ky et al. 2016", 0.832},
        {"raw cassava starch, Rhizopus koji: Fujio et al. 1984", 0.855},
        {"raw cassava starch, Rhizopus koji, 96 h, middle of 72.3 to 83.5 %: Fujio, Ogata, Ueda 1985", 0.5 * (0.723 + 0.835)},
        {"raw ground maize, koji, 72 h: Weller, Steinberg, Rodda 1984", 0.896},
        {"raw maize starch, amylase-displaying yeast, 72 h: Shigechi et al. 2004", 0.865},
    }};
    /// Share of the theoretical ethanol, sugar taken.
    static constexpr std::array<published_share, 3> efficiency_rows{{
        {"48.4 g ethanol per 100 g glucose: Weihenstephan lecture notes 4.2", 0.484 / stoichiometry::ethanol_per_glucose},
        {"by-products 0.0442 g/g: Zentou et al. 2021", 1.0 - 0.0442},
        {"0.499 g/g: Barcelos et al. 2011", 0.499 / stoichiometry::ethanol_per_glucose},
    }};
    /// Conversion of raw starch where it was published by itself; a check on the quotient, not its source.
    static constexpr std::array<published_share, 3> conversion_rows{{
        {"raw ground maize, koji: Han 1987", 0.92},
        {"raw maize starch, amylolytic industrial yeast, carbon conversion, 192 h: Cripwell et al. 2019", 0.87},
        {"raw maize starch, amylolytic yeast, carbon converted, 240 h: Viktor et al. 2013", 0.83},
    }};

    static measured overall() { return mean_and_spread(overall_rows); }
    static measured fermentation_efficiency() { return mean_and_spread(efficiency_rows); }

    static measured conversion() {
        const measured o = overall();
        const measured e = fermentation_efficiency();
        const double relative_o = o.standard_uncertainty / o.value;
        const double relative_e = e.standard_uncertainty / e.value;
        const double mean = o.value / e.value;
        return {mean, mean * std::sqrt(relative_o * relative_o - relative_e * relative_e)};
    }

    static Assumptions assumptions() { return {conversion(), fermentation_efficiency()}; }
};

/// What the residue of a finished wash is made of.
struct residue {
    static constexpr source from{
        "dissolved_by_products",
        "share of the fermentation by-products that stays dissolved",
        "classic balance, Weihenstephan lecture notes 4.2: of 100 g glucose 3.3 g glycerol, 0.6 g succinic acid, 1.2 g other, mostly yeast",
        "anaerobic fermentation of glucose",
        "0.15, to cover glycerol between 0.023 and 0.05 g/g (Zentou et al. 2021 and bread mashes)",
    };
    static constexpr double glycerol = 3.3, succinic_acid = 0.6, other = 1.2;  // g per 100 g glucose
    static constexpr measured dissolved_by_products{(glycerol + succinic_acid) / (glycerol + succinic_acid + other), 0.15};
};

/// The kernel behind end point and reading: gravity and strength of the wash of a bill, in terms of conversion and of sugar fermented.
struct wash_model {
    mash_masses<Uncertain> masses;
    Uncertain water;  // kg added
    Uncertain efficiency;
    Uncertain dissolved_by_products;
    Uncertain soluble_share_of_rest;

    static wash_model of(const Potential& p, const measured& dissolved = residue::dissolved_by_products) {
        return {p.masses, p.water_kg, p.fermentation_efficiency, dissolved.as_input("dissolved share of the by-products"), p.soluble_share_of_rest};
    }

    /// The same without doubt.
    [[nodiscard]] wash_model plain() const {
        const auto v = [](const Uncertain& x) { return Uncertain(x.value()); };
        return {{v(masses.starch), v(masses.sugars), v(masses.hexose_of_sugars), v(masses.moisture), v(masses.rest)},
                v(water),
                v(efficiency),
                v(dissolved_by_products),
                v(soluble_share_of_rest)};
    }

    [[nodiscard]] wash_masses<Uncertain> stage(const Uncertain& conversion, const Uncertain& fermented) const {
        return mash_balance::stage<Uncertain>(masses, water, conversion, fermented, efficiency, dissolved_by_products, soluble_share_of_rest);
    }

    /// Specific gravity 20/20 of the liquid, degassed and without solids.
    [[nodiscard]] Uncertain gravity(const Uncertain& conversion, const Uncertain& fermented) const {
        const wash_masses<Uncertain> m = stage(conversion, fermented);
        const Uncertain liquid = m.liquid();
        return wash::gravity_20_20<Uncertain>(m.ethanol / liquid, m.extract / liquid);
    }

    /// Strength of the liquid, volume fraction at 20 degC.
    [[nodiscard]] Uncertain abv(const Uncertain& conversion, const Uncertain& fermented) const {
        const wash_masses<Uncertain> m = stage(conversion, fermented);
        const Uncertain liquid = m.liquid();
        return wash::abv<Uncertain>(m.ethanol / liquid, m.extract / liquid);
    }
};

/// The wash at its end.
struct EndPoint {
    Uncertain conversion;  ///< share of the starch that became glucose
    Uncertain ethanol_kg;
    Uncertain pure_alcohol_l;  ///< at 20 degC
    Uncertain co2_kg;
    Uncertain starch_left_kg;
    Uncertain wash_kg;        ///< liquid, off solids and gas
    Uncertain wash_volume_l;  ///< the same at 20 degC
    Uncertain abw;            ///< ethanol, mass fraction of the liquid
    Uncertain abv;            ///< ethanol, volume fraction at 20 degC
    Uncertain real_extract;   ///< dissolved, mass fraction of the liquid
    Uncertain gravity;        ///< specific gravity 20/20, degassed
};

/// The finished wash of a potential: the expected conversion, and no sugar left standing.
///   of          potential(bill, water, assumptions)
///   dissolved   share of the by-products that stays in solution, 0 to 100 %
///   ->          each figure with its standard uncertainty and budget; water held by the spent grain has the same strength, and is included
/// Throws RangeError for a share outside its range. Source: mash_balance, wash, no_cook. The liquid is taken as free of gas.
inline EndPoint end_point(const Potential& of, const measured& dissolved = residue::dissolved_by_products) {
    detail::require_share("dissolved share of the by-products", dissolved);
    const wash_model model = wash_model::of(of, dissolved);
    const Uncertain all(1.0);
    const wash_masses<Uncertain> m = model.stage(of.conversion, all);
    EndPoint end;
    end.conversion = of.conversion;
    end.ethanol_kg = m.ethanol;
    end.pure_alcohol_l = detail::pure_alcohol_litres(m.ethanol);
    end.co2_kg = m.carbon_dioxide;
    end.starch_left_kg = m.starch;
    end.wash_kg = m.liquid();
    end.abw = m.ethanol / end.wash_kg;
    end.real_extract = m.extract / end.wash_kg;
    end.wash_volume_l = end.wash_kg * litres_per_cubic_metre / wash::density<Uncertain>(end.abw, end.real_extract, oiml_r22::reference_c);
    end.abv = wash::abv<Uncertain>(end.abw, end.real_extract);
    end.gravity = wash::gravity_20_20<Uncertain>(end.abw, end.real_extract);
    return end;
}

}  // namespace ferment
