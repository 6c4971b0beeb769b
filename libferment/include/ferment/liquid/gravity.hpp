#pragma once
// Specific gravity, degrees Plato, points, density and grams per litre of a wort: one scale in many costumes, at any pair of reference
// temperatures, true or weighed in air. All of it is exact algebra on the sucrose density; nothing is fitted here.

#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/sucrose.hpp>

namespace ferment {

inline constexpr double conventional_air_density = 1.2;        // kg/m3, OIML R 111: conventional mass is defined in air of 1.2 kg/m3
inline constexpr double conventional_weight_density = 8000.0;  // kg/m3, OIML R 111
inline constexpr double points_per_gravity = 1000.0;
inline constexpr num::interval liquid_density_range{500.0, 2000.0};  // kg/m3; anything else is a slip of the unit
inline constexpr num::interval air_density_range{0.0, 2.0};          // kg/m3: none, or that of any weather

inline constexpr source air_buoyancy{
    "air_buoyancy", "gravity and density as weighed in air",    "OIML R 111-1 (2004): air of 1.2 kg/m3, weights of 8000 kg/m3",
    "any density",  "conventional values, exact by definition",
};

/// Sample and water temperature of a gravity and the air it is weighed in (density zero for true gravities), as numbers for the kernels.
struct gravity_frame {
    double sample_c = at_20_20::sample_c;  // degC
    double water_c = at_20_20::water_c;    // degC
    double air = 0.0;                      // kg/m3
};

/// The frame of a reference type: frame_of<at_60f_60f>().
template <class Reference>
constexpr gravity_frame frame_of(const double air = 0.0) {
    return {Reference::sample_c, Reference::water_c, air};
}

/// Gravities of a wort in a frame; kernels on plain numbers.
struct wort_gravity {
    /// Gravity from extract (mass fraction). NaN outside the range of icumsa_sps4.
    template <class T>
    static constexpr T from_extract(const T& w, const gravity_frame& frame) {
        const T rho = icumsa_sps4::density(w, T(0.0 * w + frame.sample_c));
        return (rho - frame.air) / (icumsa_sps4::water(frame.water_c) - frame.air);
    }
    /// Density at the sample temperature from gravity, kg/m3.
    template <class T>
    static constexpr T density(const T& sg, const gravity_frame& frame) {
        return sg * (icumsa_sps4::water(frame.water_c) - frame.air) + frame.air;
    }
    /// Gravity from density at the sample temperature, kg/m3.
    template <class T>
    static constexpr T from_density(const T& rho, const gravity_frame& frame) {
        return (rho - frame.air) / (icumsa_sps4::water(frame.water_c) - frame.air);
    }
    /// Extract from gravity: the exact inverse of from_extract.
    template <class T>
    static T extract(const T& sg, const gravity_frame& frame) {
        const num::interval possible = range(frame);
        const T lower = T(0.0 * sg + icumsa_sps4::water(frame.sample_c));
        const T upper = T(0.0 * sg + icumsa_sps4::density(icumsa_sps4::extract_range.upper, frame.sample_c));
        // The way through the gravity may leave the range of densities by round-off at its ends.
        const T rho = density(sg, frame);
        const T not_lighter = num::select(num::mask<T>(rho < lower), lower, rho);
        const T on_scale = num::select(num::mask<T>(not_lighter > upper), upper, not_lighter);
        return num::keep_if(num::inside(sg, possible), icumsa_sps4::extract_from_density(on_scale, T(0.0 * sg + frame.sample_c)));
    }
    /// Grams of extract in a litre at t degC from extract (mass fraction): w rho(w, t).
    template <class T>
    static constexpr T grams_per_litre(const T& w, const T& t) {
        return w * icumsa_sps4::density(w, t);
    }
    /// Extract (mass fraction) from grams per litre at t degC: the exact inverse of grams_per_litre.
    template <class T>
    static T extract_from_grams_per_litre(const T& concentration, const T& t) {
        const auto f = [&](const T& w) {
            const num::value_and_slope<T> rho = icumsa_sps4::density_and_slope(w, t);
            return num::value_and_slope<T>{w * rho.value - concentration, rho.value + w * rho.slope};
        };
        const T start = concentration * (1.0 / icumsa_sps4::water(icumsa_sps4::reference_c));
        const T w = num::bracketed_newton<T>(f, T(icumsa_sps4::extract_range.lower), T(icumsa_sps4::extract_range.upper), start);
        return num::keep_if(num::inside(t, icumsa_sps4::t_range), w);
    }
    /// Least and greatest gravity of sucrose solutions in a frame.
    static constexpr num::interval range(const gravity_frame& frame) {
        return {from_extract(icumsa_sps4::extract_range.lower, frame), from_extract(icumsa_sps4::extract_range.upper, frame)};
    }
};

/// Checked forms on plain numbers, shared by the typed doors below and by the Python doors.
namespace detail {

inline void require_air(const double air) {
    require_inside("density of the air", air, "kg/m3", air_density_range, air_buoyancy);
}

inline double gravity_from_extract(const double w, const gravity_frame& frame) {
    require_air(frame.air);
    require_sucrose(w, icumsa_sps4::reference_c);
    return wort_gravity::from_extract(w, frame);
}

inline double extract_from_gravity(const double sg, const gravity_frame& frame) {
    require_air(frame.air);
    require_inside("gravity", sg, "", wort_gravity::range(frame), "sucrose solutions of 0 to 70 % mass; a wash below water has no extract on this scale alone");
    return wort_gravity::extract(sg, frame);
}

inline void require_density(const double rho) {
    require_inside("density", rho, "kg/m3", liquid_density_range, "no wort, wash or spirit weighs that");
}

inline double gravity_from_density(const double rho, const gravity_frame& frame) {
    require_air(frame.air);
    require_density(rho);
    return wort_gravity::from_density(rho, frame);
}

inline double density_from_gravity(const double sg, const gravity_frame& frame) {
    require_air(frame.air);
    const num::interval range{wort_gravity::from_density(liquid_density_range.lower, frame), wort_gravity::from_density(liquid_density_range.upper, frame)};
    require_inside("gravity", sg, "", range, "no wort, wash or spirit weighs that");
    return wort_gravity::density(sg, frame);
}

}  // namespace detail

/// Specific gravity of a wort from its extract, at the reference of the type asked for: gravity_from_extract<at_60f_60f>(12.0 * degree_plato).
///   extract_by_mass   0 to 70 % mass
///   air               density of the air it is weighed in, kg/m3; zero for the true gravity
/// Throws RangeError outside. Source: icumsa_sps4.
template <class Reference = at_20_20>
gravity<Reference> gravity_from_extract(const extract<>& extract_by_mass, const double air = 0.0) {
    return gravity<Reference>::from_value(detail::gravity_from_extract(extract_by_mass.value(), frame_of<Reference>(air)));
}

/// Extract of a wort from its specific gravity: the exact inverse of gravity_from_extract. Throws RangeError below water and above 70 %.
template <class Reference>
extract<> extract_from_gravity(const bu::quantity<typename gravity_unit<Reference>::unit_type, double>& sg, const double air = 0.0) {
    return extract<>::from_value(detail::extract_from_gravity(sg.value(), frame_of<Reference>(air)));
}

/// Degrees Plato from SG 20/20, and back.
inline extract<> plato_from_sg(const specific_gravity<>& sg) {
    return extract_from_gravity<at_20_20>(sg);
}
inline specific_gravity<> sg_from_plato(const extract<>& plato) {
    return gravity_from_extract<at_20_20>(plato);
}

/// Gravity of a liquid from its density, 500 to 2000 kg/m3, at the sample temperature of the reference (and back); 20/20 unless asked for
/// otherwise. Throws RangeError outside.
template <class Reference = at_20_20>
gravity<Reference> sg_from_density(const density<>& density_at, const double air = 0.0) {
    return gravity<Reference>::from_value(detail::gravity_from_density(density_at.value(), frame_of<Reference>(air)));
}
template <class Reference>
density<> density_from_sg(const bu::quantity<typename gravity_unit<Reference>::unit_type, double>& sg, const double air = 0.0) {
    return density<>::from_value(detail::density_from_gravity(sg.value(), frame_of<Reference>(air)));
}

/// Gravity points: 1000 (SG - 1).
inline double points_from_sg(const specific_gravity<>& sg) {
    return points_per_gravity * (sg.value() - 1.0);
}
inline specific_gravity<> sg_from_points(const double points) {
    return specific_gravity<>::from_value(1.0 + points / points_per_gravity);
}

/// Extract in a litre of wort at a temperature, as a density (1 kg/m3 = 1 g/L). Ranges and errors as sucrose_density.
inline density<> extract_per_litre(const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_sucrose(extract_by_mass.value(), temperature.value());
    return density<>::from_value(wort_gravity::grams_per_litre(extract_by_mass.value(), temperature.value()));
}

/// Extract by mass from grams per litre at a temperature: the exact inverse of extract_per_litre.
inline extract<> extract_from_per_litre(const density<>& concentration, const celsius<>& temperature) {
    const double t = temperature.value();
    detail::require_sucrose(icumsa_sps4::extract_range.lower, t);
    require_inside("extract per litre", concentration.value(), "g/L", {0.0, wort_gravity::grams_per_litre(icumsa_sps4::extract_range.upper, t)},
                   icumsa_sps4::from);
    return extract<>::from_value(wort_gravity::extract_from_grams_per_litre(concentration.value(), t));
}

/// Density as weighed in air with steel or brass weights: (rho - air)/(1 - air/8000). 500 to 2000 kg/m3; throws RangeError outside.
/// Source: OIML R 111-1 (2004).
inline density<> density_in_air(const density<>& true_density, const double air = conventional_air_density) {
    detail::require_air(air);
    detail::require_density(true_density.value());
    return density<>::from_value((true_density.value() - air) / (1.0 - air / conventional_weight_density));
}

/// True density from density as weighed in air, 500 to 2000 kg/m3: the exact inverse of density_in_air. Throws RangeError outside.
inline density<> density_in_vacuum(const density<>& apparent_density, const double air = conventional_air_density) {
    detail::require_air(air);
    detail::require_density(apparent_density.value());
    return density<>::from_value(apparent_density.value() * (1.0 - air / conventional_weight_density) + air);
}

}  // namespace ferment
