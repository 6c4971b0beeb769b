#pragma once
// How strongly a liquid bends light: refractive index for the sodium D line, relative to air, of water, sugar solutions, spirits and washes.
//
// Every liquid here follows Gladstone and Dale's rule: what each constituent adds to (n - 1) V is in proportion to its mass, V the specific
// volume of the liquid. Temperature then acts through the density and the water alone; no temperature coefficient of a solute was needed.

#include <array>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/polynomial.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
#include <string_view>
#include <type_traits>

namespace ferment {

/// Liquid water and, for its other sources, the air it is compared with.
struct iapws_r9 {
    static constexpr source from{
        "iapws_r9",
        "refractive index of water, sodium D line, relative to air",
        "IAPWS R9-97, Release on the Refractive Index of Ordinary Water Substance, 1997 (read in a public reference implementation of the releases)",
        "0 <= t <= 60 degC at atmospheric pressure",
        "1e-5: within that of the water of ISO 1743 at 20, 30, 45 and 60 degC; the air is Edlen's of 1966, from memory, worth 2e-6 at most",
    };
    static constexpr num::interval t_range{0.0, 60.0};  // degC: as far as measured values were at hand, not the range of the release

    // a0 to a7 of the release, verbatim; densities against 1000 kg/m3, temperatures against 273.15 K, wavelengths against 0.589 um.
    static constexpr std::array<double, 8> a{0.244257733,   9.74634476e-3, -3.73234996e-3, 2.68678472e-4,
                                             1.58920570e-3, 2.45934259e-3, 0.900704920,    -1.66626219e-2};
    static constexpr double ultraviolet = 0.2292020, infrared = 5.432937;
    static constexpr double reference_density = 1000.0;      // kg/m3
    static constexpr double reference_temperature = 273.15;  // K
    static constexpr double reference_wavelength = 0.589;    // um
    static constexpr double sodium_d = 0.5893;               // um

    // Air, which refractometers compare with: its (n - 1) goes with its density, at one atmosphere.
    static constexpr double air_refractivity = 2.72e-4;  // at 20 degC, Edlen 1966, from memory
    static constexpr double air_c = 20.0;

    /// Index against vacuum.
    ///   rho          density of the water, kg/m3
    ///   t            temperature, degC
    ///   wavelength   um
    ///   ->           dimensionless; unchecked
    template <class T>
    static T in_vacuum(const T& rho, const T& t, const double wavelength = sodium_d) {
        using std::sqrt;
        const double l = wavelength / reference_wavelength;
        const double l2 = l * l;
        const double of_wavelength = a[0] + a[4] / l2 + a[5] / (l2 - ultraviolet * ultraviolet) + a[6] / (l2 - infrared * infrared);
        const double of_temperature = a[2] + a[3] * l2;
        const T r = rho * (1.0 / reference_density);
        const T warmth = (t + iapws_sr6::zero_celsius) * (1.0 / reference_temperature);
        const T molar = r * (of_wavelength + a[1] * r + of_temperature * warmth + a[7] * (r * r));
        return sqrt(T((1.0 + 2.0 * molar) / (1.0 - molar)));
    }

    /// Index of air at one atmosphere; t in degC; unchecked.
    template <class T>
    static T air(const T& t) {
        return 1.0 + air_refractivity * (iapws_sr6::zero_celsius + air_c) / (t + iapws_sr6::zero_celsius);
    }

    /// Index of water against air of its own temperature; t in degC, 0 to 60, unchecked but for NaN outside 0 to 100.
    template <class T>
    static T against_air(const T& t) {
        return in_vacuum(iapws_sr6::density(t), t) / air(t);
    }

    /// Refractive index of water.
    ///   t    temperature, degC    0 <= t <= 60
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& t) {
        return num::keep_if(num::inside(t, t_range), against_air(t));
    }
};

namespace detail {

/// Where the densities of both solutes and the published corrections of refractometers hold.
inline constexpr num::interval refraction_t_range{10.0, 40.0};  // degC

/// The root in w of residual(w, inputs...), monotonic over the bracket. Scalars that carry doubt are solved on their plain values, then given
/// their doubt by one step.
///   residual   callable (w, inputs...) -> value_and_slope, generic in its scalar
template <class T, class F, class... Inputs>
T solve_refraction(const F& residual, const T& lower, const T& upper, const T& start, const Inputs&... inputs) {
    if constexpr (num::is_lanes<T> || std::is_arithmetic_v<T>) {
        return num::bracketed_newton<T>([&](const T& w) { return residual(w, inputs...); }, lower, upper, start);
    } else {
        using num::value_of;
        return num::bracketed_newton<T>([&](const double w) { return residual(w, value_of(inputs)...); }, [&](const T& w) { return residual(w, inputs...); },
                                        value_of(lower), value_of(upper), value_of(start));
    }
}

/// How far the index of a formula lies from a wanted one: the residual of every inverse here.
template <class Formula>
struct index_excess {
    template <class T, class... At>
    num::value_and_slope<T> operator()(const T& share, const T& wanted, const At&... at) const {
        num::value_and_slope<T> y = Formula::index_and_slope(share, at...);
        y.value = y.value - wanted;
        return y;
    }
};

}  // namespace detail

/// Sucrose solutions: the Brix scale of a refractometer.
///
///   n - 1 = rho(w, t) ((1 - w) (n_water(t) - 1)/rho_water(t) + w s(w)),   rho and rho_water of icumsa_sps4
///
/// Rejected: the additive rule of Lorentz and Lorenz, which misses the temperature tables by up to 0.11 on the Brix scale at 10 degC, and the
/// published quintic of Brix in nD, which misses the table it is meant for by 0.02.
struct sucrose_refraction {
    static constexpr source from{
        "sucrose_refraction",
        "refractive index nD of sucrose solutions",
        "fit to OIV-MA-AS2-02 (2004) table II (ICUMSA 1974) and CRC Handbook 102nd ed., section 5, sucrose; temperature: Gladstone and Dale's rule with "
        "the densities of ICUMSA SPS-4 and the water of IAPWS R9-97",
        "0 <= extract <= 70 % mass; 10 <= t <= 40 degC",
        "20 degC: 6e-6 against OIV 10-30 %, 7e-5 against CRC 0-70 %; temperature correction: 0.025 degBx against the interstate table 10-21 degC, "
        "0.035 against OIV table I 10-17 degC, 0.03 against the expansion of starch syrup by ISO 1743 at 30 degC",
    };
    static constexpr num::interval extract_range = icumsa_sps4::extract_range;
    static constexpr num::interval t_range = detail::refraction_t_range;
    static constexpr double reference_c = 20.0;
    static constexpr double typical_slope = 0.16;  // of nD in w, only for a first guess

    // s(w), m3/kg times 1000: powers 0 to 2 of w. Least squares; tests/reference/fit_refraction.py makes it.
    static constexpr std::array<double, 3> sucrose_refractivity{0.347967693, 0.00293672232, 0.000890185984};
    static constexpr double litre = 1e-3;  // the polynomials are in L/kg

    /// s(w), m3/kg.
    template <class T>
    static constexpr T solute(const T& w) {
        return litre * num::horner(sucrose_refractivity, w);
    }

    /// Index with its slope in w; unchecked.
    template <class T>
    static num::value_and_slope<T> index_and_slope(const T& w, const T& t) {
        const T of_water = (iapws_r9::against_air(t) - 1.0) / icumsa_sps4::water(t);
        const num::value_and_slope<T> rho = icumsa_sps4::density_and_slope(w, t);
        const T sum = (1.0 - w) * of_water + w * solute(w);
        const T slope = solute(w) - of_water + w * (litre * num::horner(num::derivative(sucrose_refractivity), w));
        return {1.0 + rho.value * sum, rho.slope * sum + rho.value * slope};
    }

    /// Refractive index of a sucrose solution.
    ///   w    extract as a mass fraction    0 <= w <= 0.70
    ///   t    temperature, degC             10 <= t <= 40
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& w, const T& t) {
        return num::keep_if(num::mask<T>(num::inside(w, extract_range) && num::inside(t, t_range)), index_and_slope(w, t).value);
    }

    /// The extract whose solution has this index: the exact inverse of index(w, t).
    ///   n    refractive index; t  temperature, degC, 10 <= t <= 40
    ///   ->   mass fraction 0 to 0.70; NaN where no such solution exists
    template <class T>
    static T extract_from_index(const T& n, const T& t) {
        const detail::index_excess<sucrose_refraction> residual;
        const T none = 0.0 * n + 0.0 * t;
        const T start = (n - iapws_r9::against_air(t)) * (1.0 / typical_slope);
        const T w = detail::solve_refraction<T>(residual, T(none + extract_range.lower), T(none + extract_range.upper), start, n, t);
        return num::keep_if(num::inside(t, t_range), w);
    }
};

/// Glucose at 20 degC: extract of fully saccharified starch. On a sucrose scale it reads 0.8 % (of the extract) low at 10 %.
struct glucose_refraction {
    static constexpr source from{
        "glucose_refraction",
        "refractive index nD of glucose solutions at 20 degC",
        "CRC Handbook of Chemistry and Physics, 102nd ed. 2021, section 5, Concentrative Properties of Aqueous Solutions (after Wolf 1966)",
        "0 <= extract <= 60 % mass; 20 degC only",
        "5e-5, the rounding of the table, which the polynomial meets in every row",
    };
    static constexpr num::interval extract_range{0.0, 0.60};
    // (n - n_water)/w, powers 0 to 4 of w. Least squares through the table; tests/reference/fit_refraction.py makes it.
    static constexpr std::array<double, 5> glucose_rise{0.14187991, 0.0510714034, 0.0310995306, -0.0926818114, 0.105286469};

    template <class T>
    static num::value_and_slope<T> index_and_slope(const T& w) {
        const T per_extract = num::horner(glucose_rise, w);
        return {iapws_r9::against_air(T(0.0 * w + sucrose_refraction::reference_c)) + w * per_extract,
                per_extract + w * num::horner(num::derivative(glucose_rise), w)};
    }

    /// Refractive index of a glucose solution at 20 degC.
    ///   w    glucose (anhydrous) as a mass fraction    0 <= w <= 0.60
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& w) {
        return num::keep_if(num::inside(w, extract_range), index_and_slope(w).value);
    }

    /// The exact inverse of index(w).
    template <class T>
    static T extract_from_index(const T& n) {
        const detail::index_excess<glucose_refraction> residual;
        const T none = 0.0 * n;
        const T start = (n - iapws_r9::against_air(T(none + sucrose_refraction::reference_c))) * (1.0 / sucrose_refraction::typical_slope);
        return detail::solve_refraction<T>(residual, T(none + extract_range.lower), T(none + extract_range.upper), start, n);
    }
};

/// Starch hydrolysate (glucose syrup): sugars and dextrins of starch broken down in part. On a sucrose scale it reads 4.5 % (of the extract)
/// high at 10 to 28 %. Maltose lies between it and glucose, so how far a wort is off depends on how far its starch is broken down.
struct hydrolysate_refraction {
    static constexpr source from{
        "hydrolysate_refraction",
        "refractive index nD of starch hydrolysate",
        "ISO 1743, Glucose syrup, determination of dry matter content, refractive index method, first table, as adopted in GOST R 50546-93 "
        "(its dextrose equivalent was not readable)",
        "0 <= dry matter <= 66 % mass; 20 <= t <= 60 degC",
        "2.1e-5 against every cell of the table (rounding 5e-6)",
    };
    static constexpr num::interval extract_range = num::from_percent(0.0, 66.0);
    static constexpr num::interval t_range{20.0, 60.0};  // degC
    static constexpr double reference_c = 20.0;
    static constexpr double t_scale = 100.0;

    // (n - n_water(t))/w: powers of w, times powers 0, 1 and 2 of (t - 20)/100. Least squares; tests/reference/fit_refraction.py makes it.
    static constexpr std::array<double, 5> hydrolysate_0{0.148946198, 0.0639108383, -0.00681692713, 0.0397282167, -0.0176338092};
    static constexpr std::array<double, 3> hydrolysate_1{-0.0146575111, 0.00157973333, 0.00124540629};
    static constexpr std::array<double, 2> hydrolysate_2{0.00974220249, 0.00238578048};

    template <class T>
    static num::value_and_slope<T> index_and_slope(const T& w, const T& t) {
        const T x = (t - reference_c) * (1.0 / t_scale);
        const T per_extract = num::horner(hydrolysate_0, w) + x * (num::horner(hydrolysate_1, w) + x * num::horner(hydrolysate_2, w));
        const T slope = num::horner(num::derivative(hydrolysate_0), w) + x * (num::horner(num::derivative(hydrolysate_1), w) + x * hydrolysate_2[1]);
        return {iapws_r9::against_air(t) + w * per_extract, per_extract + w * slope};
    }

    /// Refractive index of starch hydrolysate.
    ///   w    dry matter as a mass fraction    0 <= w <= 0.66
    ///   t    temperature, degC                20 <= t <= 60
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& w, const T& t) {
        return num::keep_if(num::mask<T>(num::inside(w, extract_range) && num::inside(t, t_range)), index_and_slope(w, t).value);
    }

    /// The exact inverse of index(w, t).
    template <class T>
    static T extract_from_index(const T& n, const T& t) {
        const detail::index_excess<hydrolysate_refraction> residual;
        const T none = 0.0 * n + 0.0 * t;
        const T start = (n - iapws_r9::against_air(t)) * (1.0 / sucrose_refraction::typical_slope);
        const T w = detail::solve_refraction<T>(residual, T(none + extract_range.lower), T(none + extract_range.upper), start, n, t);
        return num::keep_if(num::inside(t, t_range), w);
    }

    /// Dry matter of a hydrolysate from what a sucrose scale shows of it at 20 degC.
    ///   shown   mass fraction on the sucrose scale, 0 to 0.70
    ///   ->      mass fraction 0 to 0.66; NaN outside
    template <class T>
    static T from_sucrose_scale(const T& shown) {
        const T at = T(0.0 * shown + reference_c);
        return extract_from_index(sucrose_refraction::index(shown, at), at);
    }
};

/// Ethanol and water. The index rises with the ethanol to a flat top near 80 % mass and falls after it, so that two strengths share an index
/// above that of pure ethanol; the inverse keeps to the rising side.
///
///   n - 1 = rho(p, t) ((1 - p) (n_water(t) - 1)/rho(0, t) + p s(p)),   rho of oiml_r22
struct spirit_refraction {
    static constexpr source from{
        "spirit_refraction",
        "refractive index nD of ethanol-water mixtures",
        "fit to CRC Handbook of Chemistry and Physics, 102nd ed. 2021, section 5, ethanol (after Wolf 1966), 20 degC; other temperatures computed: "
        "Gladstone and Dale's rule with the densities of OIML R 22",
        "0 <= abw <= 100 % mass; 10 <= t <= 40 degC",
        "20 degC: 1e-4 to 94 %, 1.8e-4 above; other temperatures: not checked against a table (pure ethanol at 25 degC, from memory: 2e-4)",
    };
    static constexpr num::interval t_range = detail::refraction_t_range;
    static constexpr num::interval rising_range = num::from_percent(0.0, 75.0);  // rises there at every temperature of t_range

    // s(p), L/kg: powers 0 to 5 of p. Least squares; tests/reference/fit_refraction.py makes it.
    static constexpr std::array<double, 6> ethanol_refractivity{0.455401476, -0.00104977349, 0.0643747661, -0.201833998, 0.244486181, -0.103326251};

    /// s(p), m3/kg.
    template <class T>
    static constexpr T solute(const T& p) {
        return sucrose_refraction::litre * num::horner(ethanol_refractivity, p);
    }

    /// Index with its slope in p; unchecked.
    template <class T>
    static num::value_and_slope<T> index_and_slope(const T& p, const T& t) {
        const T of_water = (iapws_r9::against_air(t) - 1.0) / oiml_r22::raw_density(T(0.0 * p), t);
        const T rho = oiml_r22::raw_density(p, t);
        const T sum = (1.0 - p) * of_water + p * solute(p);
        const T slope = solute(p) - of_water + p * (sucrose_refraction::litre * num::horner(num::derivative(ethanol_refractivity), p));
        return {1.0 + rho * sum, oiml_r22::density_slope(p, t) * sum + rho * slope};
    }

    /// Refractive index of an ethanol-water mixture.
    ///   p    ethanol as a mass fraction    0 <= p <= 1
    ///   t    temperature, degC             10 <= t <= 40
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& p, const T& t) {
        return num::keep_if(num::mask<T>(num::inside(p, oiml_r22::abw_range) && num::inside(t, t_range)), index_and_slope(p, t).value);
    }

    /// The mixture on the rising side that has this index.
    ///   n    refractive index; t  temperature, degC, 10 <= t <= 40
    ///   ->   mass fraction of ethanol, 0 to 0.75; NaN where no such mixture exists
    template <class T>
    static T abw_from_index(const T& n, const T& t) {
        constexpr double slope = 0.07;  // of nD in p, only for a first guess
        const detail::index_excess<spirit_refraction> residual;
        const T none = 0.0 * n + 0.0 * t;
        const T start = (n - iapws_r9::against_air(t)) * (1.0 / slope);
        const T p = detail::solve_refraction<T>(residual, T(none + rising_range.lower), T(none + rising_range.upper), start, n, t);
        return num::keep_if(num::inside(t, t_range), p);
    }
};

/// Water, ethanol and extract together:
///
///   n - 1 = rho(e, x, t) ((1 - e - x) (n_water(t) - 1) v_water + e s_ethanol(e/(1 - x)) + x s_sucrose(x/(1 - e))),   rho and v_water of wash
///
/// Without extract this is spirit_refraction, without ethanol sucrose_refraction, both to round-off. No measured index of such mixtures was found.
struct wash_refraction {
    static constexpr source from{
        "wash_refraction",
        "refractive index nD of water + ethanol + extract",
        "additive refractivity (Gladstone and Dale's rule) of sucrose and spirit solutions with the density of a wash",
        "0 <= abw <= 100 % mass, 0 <= extract <= 70 % mass, abw + extract <= 100 %; 10 <= t <= 40 degC",
        "computed, no measured mixtures found. Other rules of mixing (Lorentz-Lorenz, Eykman) through the same binaries differ by 1e-5 to 2e-5 at 8 % "
        "ethanol and 3 % extract, by 5e-5 at 10 % extract; the extract is taken for sucrose, and residual dextrin reads 4.5 % of itself high",
    };
    static constexpr num::interval t_range = detail::refraction_t_range;
    /// Standard uncertainty to give an index from this rule in washes to 12 % mass of ethanol: the scatter of the ethanol table about its fit
    /// (5e-5) and half of what other rules of mixing differ by (2e-5), together.
    static constexpr double standard_uncertainty = 6e-5;

    /// Index; unchecked.
    template <class T>
    static T raw_index(const T& e, const T& x, const T& t) {
        const T of_water = (iapws_r9::against_air(t) - 1.0) * wash::water_specific_volume(e, x, t);
        const T ethanol_in_solvent = num::select(x == 1.0, T(0.0 * e), T(e / (1.0 - x)));
        const T sum =
            (1.0 - e - x) * of_water + e * spirit_refraction::solute(ethanol_in_solvent) + x * sucrose_refraction::solute(wash::without_ethanol(e, x));
        return 1.0 + sum / wash::specific_volume(e, x, t);
    }

    /// Refractive index of a wash.
    ///   e    ethanol as a mass fraction of the wash    0 <= e, e + x <= 1
    ///   x    extract as a mass fraction of the wash    0 <= x, x/(1 - e) <= 0.70
    ///   t    temperature, degC                         10 <= t <= 40
    ///   ->   dimensionless; NaN outside the range or for NaN
    template <class T>
    static T index(const T& e, const T& x, const T& t) {
        return num::keep_if(num::mask<T>(wash::valid(e, x, t) && num::inside(t, t_range)), raw_index(e, x, t));
    }

    /// Extract of a wash of known ethanol from its index: the exact inverse of index in x.
    ///   n    refractive index; e  mass fraction of ethanol, 0 to 0.75; t  temperature, degC, 10 to 40
    ///   ->   mass fraction of extract; NaN where no such wash exists
    template <class T>
    static T extract_from_index(const T& n, const T& e, const T& t) {
        const auto residual = [](const auto& x, const auto& index, const auto& ethanol, const auto& at) {
            using S = std::decay_t<decltype(x)>;
            return wash::with_slope([&](const S& y) { return S(raw_index(ethanol, y, at) - index); }, x);
        };
        const T none = 0.0 * n + 0.0 * t + 0.0 * e;
        const T most = (1.0 - e) * icumsa_sps4::extract_range.upper + none;
        const T x = detail::solve_refraction<T>(residual, none, most, T(0.1 * most), n, e, t);
        return num::keep_if(num::mask<T>(num::inside(t, t_range) && num::inside(e, spirit_refraction::rising_range)), x);
    }

    /// Ethanol of a wash of known extract from its index: the exact inverse of index in e on the rising side.
    ///   n    refractive index; x  mass fraction of extract, 0 to 0.40; t  temperature, degC, 10 to 40
    ///   ->   mass fraction of ethanol, up to half of the liquid beside the extract; NaN where no such wash exists
    template <class T>
    static T abw_from_index(const T& n, const T& x, const T& t) {
        const auto residual = [](const auto& e, const auto& index, const auto& extract_by_mass, const auto& at) {
            using S = std::decay_t<decltype(e)>;
            return wash::with_slope([&](const S& y) { return S(raw_index(y, extract_by_mass, at) - index); }, e);
        };
        const T none = 0.0 * n + 0.0 * t + 0.0 * x;
        const T most = (1.0 - x) * strongest_in_solvent + none;
        const T e = detail::solve_refraction<T>(residual, none, most, T(0.1 * most), n, x, t);
        return num::keep_if(num::mask<T>(num::inside(t, t_range) && num::inside(x, rising_extract_range)), e);
    }

    // Where the index rises with the ethanol at every temperature of t_range: with 40 % of extract it does up to 57 % of ethanol in the rest at
    // 40 degC, with less extract or cooler further.
    static constexpr double strongest_in_solvent = 0.5;
    static constexpr num::interval rising_extract_range = num::from_percent(0.0, 40.0);
};

namespace detail {

/// What an index must lie between, and why.
inline void require_index(const double n, const double at_least, const double at_most, const std::string_view why) {
    require_inside("refractive index", n, "", {at_least, at_most}, why);
}
inline void require_refracting_wash(const double e, const double x, const double t) {
    require_wash(e, x, wash_refraction::t_range.lower);
    require_inside("temperature", t, "degC", wash_refraction::t_range, wash_refraction::from);
}

}  // namespace detail

/// Refractive index nD of water against air.
///   temperature   0 to 60 degC
///   ->            dimensionless (1e-5)
/// Throws RangeError outside. Source: IAPWS R9-97.
inline double water_refractive_index(const celsius<>& temperature) {
    require_inside("temperature", temperature.value(), "degC", iapws_r9::t_range, iapws_r9::from);
    return iapws_r9::index(temperature.value());
}

/// Refractive index nD of a sucrose solution.
///   extract_by_mass   0 to 70 % mass
///   temperature       10 to 40 degC
///   ->                dimensionless
/// Throws RangeError outside. Source: see sucrose_refraction.
inline double sucrose_refractive_index(const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_fraction("extract", extract_by_mass.value(), "% mass", sucrose_refraction::extract_range, sucrose_refraction::from);
    require_inside("temperature", temperature.value(), "degC", sucrose_refraction::t_range, sucrose_refraction::from);
    return sucrose_refraction::index(extract_by_mass.value(), temperature.value());
}

/// Degrees Brix from the refractive index nD at a temperature: the exact inverse of sucrose_refractive_index.
///   refractive_index   from that of water to that of a 70 % solution at the temperature
///   temperature        10 to 40 degC
///   ->                 extract on the sucrose scale, 0 to 70 % mass
/// Throws RangeError where no such solution exists. Source: see sucrose_refraction.
inline extract<> brix_from_refractive_index(const double refractive_index, const celsius<>& temperature) {
    const double t = temperature.value();
    require_inside("temperature", t, "degC", sucrose_refraction::t_range, sucrose_refraction::from);
    detail::require_index(refractive_index, sucrose_refraction::index(0.0, t), sucrose_refraction::index(sucrose_refraction::extract_range.upper, t),
                          "sucrose solutions of 0 to 70 % at this temperature");
    return extract<>::from_value(sucrose_refraction::extract_from_index(refractive_index, t));
}

/// Refractive index nD of a glucose solution at 20 degC.
///   extract_by_mass   glucose, 0 to 60 % mass
///   ->                dimensionless (5e-5)
/// Throws RangeError outside. Source: CRC Handbook 102nd ed., section 5, glucose.
inline double glucose_refractive_index(const extract<>& extract_by_mass) {
    detail::require_fraction("extract", extract_by_mass.value(), "% mass", glucose_refraction::extract_range, glucose_refraction::from);
    return glucose_refraction::index(extract_by_mass.value());
}

/// Glucose of a solution from its nD at 20 degC: the exact inverse of glucose_refractive_index. Throws RangeError where no such solution exists.
inline extract<> glucose_from_refractive_index(const double refractive_index) {
    detail::require_index(refractive_index, glucose_refraction::index(0.0), glucose_refraction::index(glucose_refraction::extract_range.upper),
                          "glucose solutions of 0 to 60 % at 20 degC");
    return extract<>::from_value(glucose_refraction::extract_from_index(refractive_index));
}

/// Refractive index nD of starch hydrolysate.
///   dry_matter    0 to 66 % mass
///   temperature   20 to 60 degC
///   ->            dimensionless (2.1e-5)
/// Throws RangeError outside. Source: ISO 1743.
inline double hydrolysate_refractive_index(const extract<>& dry_matter, const celsius<>& temperature) {
    detail::require_fraction("dry matter", dry_matter.value(), "% mass", hydrolysate_refraction::extract_range, hydrolysate_refraction::from);
    require_inside("temperature", temperature.value(), "degC", hydrolysate_refraction::t_range, hydrolysate_refraction::from);
    return hydrolysate_refraction::index(dry_matter.value(), temperature.value());
}

/// Dry matter of starch hydrolysate from its nD: the exact inverse of hydrolysate_refractive_index. Throws RangeError where there is none.
inline extract<> hydrolysate_from_refractive_index(const double refractive_index, const celsius<>& temperature) {
    const double t = temperature.value();
    require_inside("temperature", t, "degC", hydrolysate_refraction::t_range, hydrolysate_refraction::from);
    detail::require_index(refractive_index, hydrolysate_refraction::index(0.0, t),
                          hydrolysate_refraction::index(hydrolysate_refraction::extract_range.upper, t), "starch hydrolysate of 0 to 66 % at this temperature");
    return extract<>::from_value(hydrolysate_refraction::extract_from_index(refractive_index, t));
}

/// Dry matter of starch hydrolysate from what a refractometer of the sucrose scale shows of it at 20 degC.
///   brix   degrees Brix at 20 degC, from 0 to those of a hydrolysate of 66 %
///   ->     dry matter, % mass; about 4.5 % less than shown at 10 to 28 %
/// Throws RangeError outside. Source: ISO 1743 and sucrose_refraction.
inline extract<> hydrolysate_from_brix(const extract<>& brix) {
    constexpr double t = sucrose_refraction::reference_c;
    const double densest = hydrolysate_refraction::index(hydrolysate_refraction::extract_range.upper, t);
    const num::interval shown{0.0, sucrose_refraction::extract_from_index(densest, t)};
    detail::require_fraction("brix", brix.value(), "% mass", shown, hydrolysate_refraction::from);
    return extract<>::from_value(hydrolysate_refraction::from_sucrose_scale(brix.value()));
}

/// Refractive index nD of a spirit (ethanol and water).
///   strength      ethanol, 0 to 100 % mass
///   temperature   10 to 40 degC
///   ->            dimensionless
/// Throws RangeError outside. Source: see spirit_refraction.
inline double spirit_refractive_index(const abw<>& strength, const celsius<>& temperature) {
    detail::require_fraction("abw", strength.value(), "% mass", oiml_r22::abw_range, spirit_refraction::from);
    require_inside("temperature", temperature.value(), "degC", spirit_refraction::t_range, spirit_refraction::from);
    return spirit_refraction::index(strength.value(), temperature.value());
}

/// Ethanol of a spirit of at most 75 % mass from its nD; above that the index hardly changes, then falls.
///   refractive_index   from that of water to that of a spirit of 75 % mass at the temperature
///   temperature        10 to 40 degC
///   ->                 ethanol, 0 to 75 % mass. A stronger spirit has the index of a weaker one: that it is none is for the caller to know.
/// Throws RangeError outside. Source: see spirit_refraction.
inline abw<> abw_from_refractive_index(const double refractive_index, const celsius<>& temperature) {
    const double t = temperature.value();
    require_inside("temperature", t, "degC", spirit_refraction::t_range, spirit_refraction::from);
    detail::require_index(refractive_index, spirit_refraction::index(spirit_refraction::rising_range.lower, t),
                          spirit_refraction::index(spirit_refraction::rising_range.upper, t),
                          "spirits of 0 to 75 % mass at this temperature; the index of stronger ones hardly changes and then falls");
    return abw<>::from_value(spirit_refraction::abw_from_index(refractive_index, t));
}

/// Refractive index nD of a wash.
///   strength          ethanol, % mass of the wash
///   extract_by_mass   extract, % mass of the wash; at most 70 % of what is not ethanol
///   temperature       10 to 40 degC
///   ->                dimensionless
/// Throws RangeError outside. Source: see wash_refraction.
inline double wash_refractive_index(const abw<>& strength, const extract<>& extract_by_mass, const celsius<>& temperature) {
    detail::require_refracting_wash(strength.value(), extract_by_mass.value(), temperature.value());
    return wash_refraction::index(strength.value(), extract_by_mass.value(), temperature.value());
}

/// Extract of a wash of known ethanol (at most 75 % mass) from its nD: the exact inverse of wash_refractive_index.
/// Throws RangeError where no such wash exists.
inline extract<> wash_extract_from_refractive_index(const double refractive_index, const abw<>& strength, const celsius<>& temperature) {
    const double e = strength.value();
    const double t = temperature.value();
    detail::require_fraction("abw", e, "% mass", spirit_refraction::rising_range, wash_refraction::from);
    require_inside("temperature", t, "degC", wash_refraction::t_range, wash_refraction::from);
    const double most = (1.0 - e) * icumsa_sps4::extract_range.upper;
    detail::require_index(refractive_index, wash_refraction::raw_index(e, 0.0, t), wash_refraction::raw_index(e, most, t),
                          "washes of this ethanol at this temperature");
    return extract<>::from_value(wash_refraction::extract_from_index(refractive_index, e, t));
}

/// Ethanol of a wash of known extract (at most 40 % mass) from its nD: the exact inverse of wash_refractive_index as long as ethanol is at most
/// half of what is not extract. Throws RangeError where no such wash exists.
inline abw<> wash_abw_from_refractive_index(const double refractive_index, const extract<>& extract_by_mass, const celsius<>& temperature) {
    const double x = extract_by_mass.value();
    const double t = temperature.value();
    detail::require_fraction("extract", x, "% mass", wash_refraction::rising_extract_range, wash_refraction::from);
    require_inside("temperature", t, "degC", wash_refraction::t_range, wash_refraction::from);
    const double most = (1.0 - x) * wash_refraction::strongest_in_solvent;
    detail::require_index(refractive_index, wash_refraction::raw_index(0.0, x, t), wash_refraction::raw_index(most, x, t),
                          "washes of this extract at this temperature");
    return abw<>::from_value(wash_refraction::abw_from_index(refractive_index, x, t));
}

}  // namespace ferment
