#pragma once
// What a packing does: how many plates it is worth, what the vapour loses in it, and how much heating a column takes before it floods.

#include <array>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <limits>
#include <numbers>
#include <string>
#include <string_view>
#include <utility>

namespace ferment {

inline constexpr source packing_table_source{
    "packing_table",
    "void fraction, specific surface [m2/m3] and packing factor [1/ft] of random packings",
    "a table of Wiley 1980 as reprinted in Principles of Chemical Separations with Environmental Applications, Cambridge 2004, table 6.2; Billet, as tabulated "
    "in Packed Bed Columns, Elsevier 2006, table 1",
    "sizes 6 to 51 mm",
    "not stated; the void of the 6 mm ceramic ring (73 %) looks wrong, 62 % elsewhere; the two citations differ by 17 % in the surface of a 13 mm saddle",
    source_status::secondary,
};

/// One packing.
struct PackingData {
    std::string_view name;
    double size_mm;
    double void_fraction;
    double surface_m2_m3;
    double factor_per_ft;  ///< NaN where the source has none
};

inline constexpr double no_packing_factor = std::numeric_limits<double>::quiet_NaN();

inline constexpr std::array<PackingData, 19> packing_table{{
    {"ceramic Raschig", 6.35, 0.73, 787.0, 1600.0},
    {"ceramic Raschig", 12.7, 0.63, 364.0, 580.0},
    {"ceramic Raschig", 25.4, 0.73, 190.0, 155.0},
    {"ceramic Raschig", 50.8, 0.74, 92.0, 65.0},
    {"metal Raschig 1/16 in wall", 12.7, 0.73, 387.0, 410.0},
    {"metal Raschig 1/16 in wall", 25.4, 0.85, 187.0, 137.0},
    {"metal Raschig 1/16 in wall", 50.8, 0.92, 103.0, 57.0},
    {"Berl saddle ceramic", 6.35, 0.60, 899.0, 900.0},
    {"Berl saddle ceramic", 12.7, 0.63, 466.0, 240.0},
    {"Berl saddle ceramic", 25.4, 0.69, 249.0, 110.0},
    {"Berl saddle ceramic", 50.8, 0.72, 105.0, 45.0},
    {"Pall ring metal", 25.4, 0.934, 217.5, 48.0},
    {"Pall ring metal", 50.8, 0.94, 120.0, 20.0},
    {"glass sphere", 25.0, 0.43, 134.5, no_packing_factor},
    {"glass sphere", 13.0, 0.40, 282.2, no_packing_factor},
    {"Berl saddle ceramic", 38.0, 0.70, 164.0, no_packing_factor},
    {"Berl saddle ceramic", 25.0, 0.68, 260.0, no_packing_factor},
    {"Berl saddle ceramic", 13.0, 0.65, 546.0, no_packing_factor},
    {"Intalox-type saddle ceramic", 50.0, 0.761, 114.6, no_packing_factor},
}};

// ---- height of a plate ----

inline constexpr source hetp_published_source{
    "hetp_published",
    "height of packing worth one theoretical plate [m]",
    "gas-processing handbook text on random packing at oilngasseparator.info: 2 in slotted metal (Pall) ring 36 in, condensate stabiliser",
    "that packing and service only",
    "no figure for ethanol and water or for packings below 50 mm was found; measure the height with a run at total reflux",
    source_status::secondary,
};
inline constexpr double hetp_of_two_inch_pall_ring_m = 0.91;

/// Theoretical plates of a packed height; the whole plates in it count for Column::plates.
///   height_m, hetp_m   more than zero; hetp_m is what one plate takes
/// Throws InputError, RangeError.
inline double plates_of_packing(const double height_m, const double hetp_m) {
    for (const auto& [name, x] : {std::pair{"packed height", height_m}, std::pair{"height of a theoretical plate", hetp_m}}) {
        if (!std::isfinite(x)) throw InputError(std::string(name) + " must be a finite number of m");
        if (!(x > 0.0)) throw RangeError(std::string(name) + " " + format_quantity(x, "m") + " must be more than 0 m");
    }
    return height_m / hetp_m;
}

/// The whole plates of a packed height, 0 to 32767: 0.6 m of 0.2 m are three, whatever round-off makes of the division.
/// Throws InputError, RangeError.
inline int whole_plates_of_packing(const double height_m, const double hetp_m) {
    constexpr double round_off = 1e-9;
    const double whole = std::floor(plates_of_packing(height_m, hetp_m) + round_off);
    require_inside("plates of the packing", whole, "", {0.0, std::numeric_limits<short>::max()}, "height over height of a plate");
    return static_cast<int>(whole);
}

// ---- pressure drop and flooding ----

/// A bed of particles whose gaps the liquid narrows.
///
///   dry     = 0.75 f0 (1 - e)/e^4.65 rho V^2/d,   d = 6 (1 - e)/a,   f0 = C1/Re + C2/sqrt(Re) + C3,   Re = V rho d/mu
///   wetted  = dry ((1 - e + h)/(1 - e))^((2 + c)/3) (e/(e - h))^4.65,   h = h0 (1 + 20 (wetted/(rho_L g))^2),   c = (-C1/Re - C2/(2 sqrt(Re)))/f0
///   h0      = 0.555 (V_L^2 a/(g e^4.65))^(1/3)
///
/// It floods at the velocity above which no wetted pressure drop solves these.
struct stichlmair_1989 {
    static constexpr source from{
        "stichlmair_1989",
        "pressure drop and flooding of packed columns [Pa/m, m/s]",
        "Stichlmair J, Bravo JL, Fair JR, 1989. General model for prediction of pressure drop and capacity of countercurrent gas/liquid packed columns. Gas "
        "Separation & Purification 3, 19-28",
        "columns at least 8 to 10 times as wide as a piece of packing (common practice)",
        "not stated in the copy seen; C1 to C3 were seen for ceramic Berl saddles of 25 mm only",
        source_status::secondary,
    };

    struct bed {
        double void_fraction;
        double surface;  ///< m2/m3
        double c1, c2, c3;
    };
    /// Ceramic Berl saddles of 25 mm, of the worked example.
    static constexpr bed berl_saddle_25mm{0.68, 260.0, 32.0, 7.0, 1.0};

    struct fluids {
        double gas_density;     ///< kg/m3
        double gas_viscosity;   ///< Pa s
        double liquid_density;  ///< kg/m3
    };

    static constexpr double exponent = 4.65;
    static constexpr double hold_up_factor = 0.555;
    static constexpr double hold_up_rise = 20.0;
    static constexpr double friction = 0.75;
    static constexpr double gravity = standard_atmosphere::gravity;

    static double diameter(const bed& b) { return 6.0 * (1.0 - b.void_fraction) / b.surface; }

    struct friction_factor {
        double value;     // f0
        double exponent;  // c
    };
    static friction_factor factor(const bed& b, const fluids& f, const double v) {
        const double re = v * f.gas_density * diameter(b) / f.gas_viscosity;
        const double root = std::sqrt(re);
        const double value = b.c1 / re + b.c2 / root + b.c3;
        return {value, (-b.c1 / re - 0.5 * b.c2 / root) / value};
    }

    /// Pressure drop of the dry bed, Pa/m, at a gas velocity over the empty column, m/s; unchecked.
    static double dry(const bed& b, const fluids& f, const double v) {
        return friction * factor(b, f, v).value * (1.0 - b.void_fraction) / std::pow(b.void_fraction, exponent) * f.gas_density * v * v / diameter(b);
    }

    /// Liquid in the bed below loading, m3/m3, at a liquid velocity over the empty column, m/s. What stands on the packing of a running column.
    static double hold_up(const bed& b, const double liquid_v) {
        return hold_up_factor * std::cbrt(liquid_v * liquid_v * b.surface / (gravity * std::pow(b.void_fraction, exponent)));
    }

    /// Wetted pressure drop, Pa/m; NaN where the bed is flooded.
    static double wetted(const bed& b, const fluids& f, const double v, const double liquid_v) {
        const double h0 = hold_up(b, liquid_v);
        const double c = factor(b, f, v).exponent;
        const double top = most(b, h0, c);
        const auto excess = [&](const double p) {  // p as a height of liquid per height of bed
            return num::value_and_slope<double>{vle::settled(std::log(passed(b, h0, c, p).value * f.liquid_density * gravity / dry(b, f, v)), round_off),
                                                passed(b, h0, c, p).slope};
        };
        return num::bracketed_newton<double>(excess, least * top, top, 0.5 * top) * f.liquid_density * gravity;
    }

    /// Gas velocity over the empty column at which the bed floods, m/s.
    ///   liquid_v   callable: liquid velocity, m/s, that goes with a gas velocity; constant, or the reflux of that vapour
    ///   ->         m/s; NaN where the liquid alone fills the gaps
    template <class LiquidVelocity>
    static double flooding_velocity(const bed& b, const fluids& f, const LiquidVelocity& liquid_v) {
        const auto excess = [&](const double ln_v) {
            const double v = std::exp(ln_v);
            const double h0 = hold_up(b, liquid_v(v));
            if (!(h0 < b.void_fraction)) return std::numeric_limits<double>::max();  // flooded by the liquid alone
            const double c = factor(b, f, v).exponent;
            const double can = passed(b, h0, c, most(b, h0, c)).value * f.liquid_density * gravity;
            return vle::settled(std::log(dry(b, f, v) / can), round_off);
        };
        constexpr double slowest = 1e-4;  // m/s
        constexpr double fastest = 100.0;
        return std::exp(
            num::bracketed_newton<double>([&](const double x) { return wash::with_slope<double>(excess, x); }, std::log(slowest), std::log(fastest), 0.0));
    }

private:
    static constexpr double round_off = 1e-13;
    static constexpr double least = 1e-12;  // of the pressure drop at flooding

    /// The dry pressure drop, as a height of liquid per height of bed, that goes with a wetted one, p; and the slope of its logarithm.
    static num::value_and_slope<double> passed(const bed& b, const double h0, const double c, const double p) {
        const double e = b.void_fraction;
        const double h = h0 * (1.0 + hold_up_rise * p * p);
        const double h_by_p = 2.0 * h0 * hold_up_rise * p;
        const double power = (2.0 + c) / 3.0;
        const double value = p / (std::pow((1.0 - e + h) / (1.0 - e), power) * std::pow(e / (e - h), exponent));
        return {value, 1.0 / p - h_by_p * (power / (1.0 - e + h) + exponent / (e - h))};
    }

    /// The wetted pressure drop that goes with the greatest dry one.
    static double most(const bed& b, const double h0, const double c) {
        const double full = std::sqrt((b.void_fraction / h0 - 1.0) / hold_up_rise);  // the liquid fills the gaps
        const auto slope = [&](const double share) { return passed(b, h0, c, share * full).slope * share * full; };
        const auto both = [&](const double share) {
            constexpr double step = 1e-7;
            return num::value_and_slope<double>{vle::settled(slope(share), round_off), (slope(share + step) - slope(share - step)) * (0.5 / step)};
        };
        constexpr double edge = 1e-6;
        return full * num::bracketed_newton<double>(both, edge, 1.0 - edge, 0.5);
    }
};

/// Pressure drop from the packing factor alone, in the units of its source:
///   dp[in H2O/ft] = C3 Gf^2 10^(C4 Lf) + 0.4 (Lf/20000)^0.1 (C3 Gf^2 10^(C4 Lf))^4,   Gf = 986 Fs sqrt(F/20),   Lf = L (62.4/rho_L) sqrt(F/20) mu^0.1
struct robbins_1991 {
    static constexpr source from{
        "robbins_1991",
        "pressure drop of random packings from their packing factor [Pa/m]",
        "Robbins LA, 1991. Improve pressure-drop prediction with a new correlation. Chemical Engineering Progress 87(5), 87; reprinted in Perry's Chemical "
        "Engineers' Handbook, with one superscript wrong",
        "packing factor 15 to 700 1/ft (from memory)",
        "not stated in the copy seen",
        source_status::secondary,
    };
    static constexpr double c3 = 7.4e-8, c4 = 2.7e-5;
    static constexpr double kilogram_per_pound = 0.45359237;
    static constexpr double metre_per_foot = 0.3048;
    static constexpr double pascal_per_inch_of_water = 249.08891;  // conventional, water of 1000 kg/m3
    static constexpr double seconds_per_hour = 3600.0;

    /// Pressure drop, Pa/m.
    ///   factor           packing factor, 1/ft
    ///   gas, liquid      kg/(m2 s)
    ///   gas_density, liquid_density   kg/m3
    ///   liquid_mpa_s     viscosity of the liquid, mPa s
    ///   ->               unchecked
    static double pressure_drop(const double factor, const double gas, const double liquid, const double gas_density, const double liquid_density,
                                const double liquid_mpa_s) {
        constexpr double pound_per_cubic_foot = kilogram_per_pound / (metre_per_foot * metre_per_foot * metre_per_foot);
        constexpr double pound_per_square_foot_hour = kilogram_per_pound / (metre_per_foot * metre_per_foot) / seconds_per_hour;
        const double fs = gas / gas_density / metre_per_foot * std::sqrt(gas_density / pound_per_cubic_foot);
        const double scale = std::sqrt(factor / 20.0);
        const double gf = 986.0 * fs * scale;
        const double lf = liquid / pound_per_square_foot_hour * 62.4 / (liquid_density / pound_per_cubic_foot) * scale * std::pow(liquid_mpa_s, 0.1);
        const double dry = c3 * gf * gf * std::pow(10.0, c4 * lf);
        const double inches = dry + 0.4 * std::pow(lf / 20000.0, 0.1) * dry * dry * dry * dry;
        return inches * pascal_per_inch_of_water / metre_per_foot;
    }
};

// ---- how much heating a column takes ----

inline constexpr source vapour_viscosity_source{
    "vapour_viscosity",
    "viscosity of ethanol vapour at its boiling point, 1.05e-5 Pa s",
    "recalled, not read; water vapour has 1.2e-5",
    "70 to 100 degC",
    "20 % of it are 1 % in a flooding velocity",
    source_status::from_memory,
};

/// What goes through a column when it floods and at the load that is asked for.
struct ColumnCapacity {
    double flooding_m_per_s;  ///< vapour over the empty column
    double flooding_kw;       ///< heat in that vapour
    double boil_up_kw;        ///< at the share of flooding asked for
    double boil_up_kg_per_h;
    double pressure_drop_pa_m;  ///< at that load
    double hold_up_share;       ///< liquid in the packed volume, m3/m3, at that load
    double vapour_density;      ///< kg/m3, ideal gas
};

/// The largest boil-up of a packed column, at total reflux, which is the heaviest load of liquid.
///   diameter_m      inside, more than 0
///   bed             packing with the constants of stichlmair_1989
///   vapour          strength of the vapour, 0 to 100 % mass; the strong vapour of the head floods first
///   at_pressure     20 to 110 kPa
///   flood_share     of the flooding velocity, more than 0, below 1; 0.7 to 0.8 are common practice, no source
///   ->              liquid density is taken at 40 degC, where oiml_r22 ends: 4 to 5 % too heavy at the boiling point, 2 % in the velocity
/// Throws InputError, RangeError. Source: stichlmair_1989, spirit_heat, wash_vapour.
inline ColumnCapacity column_capacity(const double diameter_m, const stichlmair_1989::bed& bed, const abw<>& vapour, const pressure<>& at_pressure,
                                      const double flood_share) {
    constexpr double vapour_viscosity = 1.05e-5;  // Pa s, vapour_viscosity_source
    constexpr double gas_constant = 8.314462618;  // J/(mol K)
    constexpr double per_thousand = 1e-3;         // kg of a g, kW of a W
    constexpr double hour = 3600.0;               // s
    if (!std::isfinite(diameter_m) || !std::isfinite(flood_share) || !std::isfinite(vapour.value()) || !std::isfinite(at_pressure.value())) {
        throw InputError("diameter, strength of the vapour, pressure and share of flooding must be finite numbers");
    }
    if (!(diameter_m > 0.0)) throw RangeError("diameter " + format_quantity(diameter_m, "m") + " must be more than 0 m");
    if (!(flood_share > 0.0 && flood_share < 1.0)) {
        throw_range_error("share of flooding", detail::percent * flood_share, "%", detail::percent_range, "more than nothing and less than all of it");
    }
    if (!(bed.void_fraction > 0.0 && bed.void_fraction < 1.0)) {
        throw_range_error("void of the packing", detail::percent * bed.void_fraction, "%", detail::percent_range, packing_table_source.citation);
    }
    if (!(bed.surface > 0.0)) throw RangeError("surface of the packing " + format_quantity(bed.surface, "m2/m3") + " must be more than 0 m2/m3");
    detail::require_workable("share of flooding", detail::percent * flood_share, "%");
    detail::require_workable("diameter", diameter_m, "m");
    detail::require_workable("surface of the packing", bed.surface, "m2/m3");
    const DewPoint dew = dew_point(vapour, at_pressure);
    const double t = dew.temperature.value();
    const double molar = 1.0 / (vapour.value() / wash_vapour::ethanol + (1.0 - vapour.value()) / wash_vapour::water) * per_thousand;  // kg/mol
    const double gas_density = at_pressure.value() * molar / (gas_constant * (t + zero_celsius_kelvin));
    const double liquid_density = oiml_r22::density(vapour.value(), oiml_r22::t_range.upper);
    const stichlmair_1989::fluids fluids{gas_density, vapour_viscosity, liquid_density};
    const auto reflux = [&](const double v) { return v * gas_density / liquid_density; };
    ColumnCapacity c{};
    c.vapour_density = gas_density;
    c.flooding_m_per_s = stichlmair_1989::flooding_velocity(bed, fluids, reflux);
    const double area = 0.25 * std::numbers::pi * diameter_m * diameter_m;
    const double per_velocity = area * gas_density;  // kg/s for 1 m/s
    const double latent = spirit_heat::latent_heat(vapour.value(), t);
    const double v = flood_share * c.flooding_m_per_s;
    c.flooding_kw = c.flooding_m_per_s * per_velocity * latent * per_thousand;
    c.boil_up_kw = flood_share * c.flooding_kw;
    c.boil_up_kg_per_h = v * per_velocity * hour;
    c.pressure_drop_pa_m = stichlmair_1989::wetted(bed, fluids, v, reflux(v));
    c.hold_up_share = stichlmair_1989::hold_up(bed, reflux(v));
    return c;
}

}  // namespace ferment
