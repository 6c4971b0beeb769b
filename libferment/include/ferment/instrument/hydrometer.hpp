#pragma once
// How a hydrometer reading is corrected. The glass floats where its own density, which falls as the glass expands, equals that of the
// liquid; so a reading R taken at t on a scale made for t0 tells the density of the sample at t:
//
//   rho_sample(t) = rho_scale(R, t0) / (1 + beta (t - t0))
//
// From there the liquid matters: a wort, a wash and a spirit of one density at t differ in density at the reference temperature.

#include <array>
#include <cmath>
#include <cstddef>
#include <ferment/core/array_solve.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <string>
#include <string_view>

namespace ferment {

inline constexpr source glass_hydrometer{
    "glass_hydrometer",
    "density of a sample from the reading of a glass hydrometer at any temperature",
    "ISO 1768:1975, conventional cubic expansion of hydrometer glass 25e-6 1/K; flotation at equal density",
    "the range of the liquid's density formula",
    "0.017 degBx rms against the saccharometer correction table (from memory) 5-60 degC; 0.06 % vol rms against a glass alcoholometer table",
};

inline constexpr double conventional_glass_expansion = 25e-6;  // 1/K, ISO 1768:1975
/// From silica to plastic; anything else is a slip of the decimal point.
inline constexpr num::interval glass_expansion_range{0.0, 1e-3};
inline constexpr num::interval calibration_range{0.0, 40.0};  // degC

enum class hydrometer_scale { specific_gravity, plato, density };

/// What floats the glass. Of a wash either the strength or the real extract must be known (roughly will do: it only steers the expansion).
struct SampleWort {};
struct SampleSpirit {};
struct SampleWash {
    enum class known { strength, extract };
    known what = known::strength;
    double value = 0.0;  ///< abv (volume fraction) or extract (mass fraction)
};

/// A corrected reading: what the sample is at 20 degC, and what it weighs at its own temperature.
struct CorrectedReading {
    specific_gravity<> gravity;  ///< true SG 20/20
    density<> at_sample;         ///< density at the sample's temperature
    abw<> strength;              ///< ethanol by mass (zero for a wort)
    extract<> real_extract;      ///< extract by mass (zero for a spirit)
};

/// A glass hydrometer.
class Hydrometer {
public:
    /// scale             what the stem shows: specific gravity against water at the calibration temperature, % extract (Plato, Brix), or kg/m3
    /// calibration       temperature the scale is made for, 0 to 40 degC
    /// glass_expansion   cubic expansion of the glass, 1/K, 0 to 1e-3
    /// meniscus          added to every reading taken at the top of the meniscus, in units of the scale
    /// Throws RangeError, and InputError where the meniscus is not finite.
    explicit Hydrometer(const hydrometer_scale scale = hydrometer_scale::specific_gravity, const celsius<>& calibration = 20.0 * degree_celsius,
                        const double glass_expansion = conventional_glass_expansion, const double meniscus = 0.0)
        : scale_(scale), calibration_c_(calibration.value()), glass_expansion_(glass_expansion), meniscus_(meniscus) {
        require_inside("calibration temperature", calibration_c_, "degC", calibration_range, "hydrometer scales in use");
        require_inside("glass expansion", glass_expansion_, "1/K", glass_expansion_range, "cubic expansion; soda-lime glass is 25e-6");
        if (std::isfinite(meniscus_)) require_inside("meniscus correction", meniscus_, scale_unit(), meniscus_range(), "no meniscus is higher");
        if (!std::isfinite(meniscus_) || std::isnan(calibration_c_) || std::isnan(glass_expansion_)) {
            throw InputError("hydrometer: calibration temperature, glass expansion and meniscus correction must be numbers");
        }
    }

    /// Corrects a reading in a wort (extract and water, nothing fermented).
    ///   reading       in units of the scale; temperature 0 to 80 degC
    ///   ->            gravity, density at the sample's temperature and extract; all NaN for NaN
    /// Throws RangeError where no sucrose solution of 0 to 70 % floats the glass there. Source: glass_hydrometer, icumsa_sps4.
    [[nodiscard]] CorrectedReading correct(const double reading, const celsius<>& temperature, SampleWort) const {
        const double t = temperature.value();
        const density<> at_sample = sample_density(reading, t, icumsa_sps4::water(calibration_c_));
        const bool floats = !std::isnan(icumsa_sps4::extract_from_density(at_sample.value(), t));
        if (!floats && num::inside(t, icumsa_sps4::t_range) && at_sample.value() < icumsa_sps4::water(t)) {
            throw RangeError("hydrometer reading " + format_quantity(reading, scale_unit()) + " at " + format_quantity(t, "degC") +
                             " is below that of water, and no wort is that light; for a wash say what is known of it, its strength or its extract");
        }
        const extract<> found = extract_from_density(at_sample, temperature);
        return {specific_gravity<>::from_value(wort_gravity::from_extract(found.value(), gravity_frame{})), at_sample, abw<>::from_value(0.0 * found.value()),
                found};
    }

    /// Corrects a reading in a spirit (ethanol and water). temperature -20 to 40 degC. Source: glass_hydrometer, oiml_r22.
    [[nodiscard]] CorrectedReading correct(const double reading, const celsius<>& temperature, SampleSpirit) const {
        const density<> at_sample = sample_density(reading, temperature.value(), oiml_r22::raw_density(0.0, calibration_c_));
        const abw<> found = abw_from_density(at_sample, temperature);
        return {specific_gravity<>::from_value(volume_at_20c::density(found.value()) / volume_at_20c::density(0.0)), at_sample, found,
                extract<>::from_value(0.0 * found.value())};
    }

    /// Corrects a reading in a wash of which strength or real extract is known. temperature 0 to 40 degC. Source: glass_hydrometer, wash.
    [[nodiscard]] CorrectedReading correct(const double reading, const celsius<>& temperature, const SampleWash& sample) const {
        const double t = temperature.value();
        require_inside("hydrometer reading", reading, scale_unit(), stem_range(), "no hydrometer shows that");
        require_inside("temperature", t, "degC", wash::t_range, wash::from);
        const bool strength_known = sample.what == SampleWash::known::strength;
        if (strength_known) {
            require_inside("abv", detail::percent * sample.value, "% vol", detail::percent_range, oiml_r22::from);
        } else {
            detail::require_wash(0.0, sample.value, t);
        }
        const auto composition = [&](const double unknown) {
            return strength_known ? Composition{wash::abw_from_abv(sample.value, unknown), unknown} : Composition{unknown, sample.value};
        };
        // The scale is against water at the calibration temperature: that of the wash itself, so that nothing changes at t = t0.
        const auto indicated_density = [&](const Composition& c) { return expansion(t) / wash::specific_volume(c.e, c.x, t); };
        const auto scale = [&](const Composition& c) { return scale_density(reading, 1.0 / wash::water_specific_volume(c.e, c.x, calibration_c_)); };
        const auto excess = [&](const double unknown) {
            const Composition c = composition(unknown);
            return indicated_density(c) - scale(c);
        };
        const double most =
            strength_known ? icumsa_sps4::extract_range.upper * (1.0 - most_ethanol(sample.value)) : 1.0 - sample.value / icumsa_sps4::extract_range.upper;
        const double found = num::bracketed_newton<double>([&](const double y) { return wash::with_slope(excess, y); }, 0.0, most, strength_known ? 0.0 : 0.1);
        if (std::isnan(found) && !std::isnan(reading) && !std::isnan(t) && !std::isnan(sample.value)) {
            const double at_none = strength_known ? excess(0.0) : excess(most);  // the lightest such wash
            const std::string other = strength_known ? "a wash of " + format_quantity(detail::percent * sample.value, "% vol")
                                                     : "a wash of " + format_quantity(detail::percent * sample.value, "% extract");
            throw RangeError("hydrometer reading " + format_number(reading) + " at " + format_quantity(t, "degC") + " is too " +
                             ((at_none > 0.0) ? "low" : "high") + " for " + other + ", whatever its " + (strength_known ? "extract" : "strength"));
        }
        const Composition c = composition(found);
        const density<> at_sample = density<>::from_value(1.0 / wash::specific_volume(c.e, c.x, t));
        return {specific_gravity<>::from_value(wash::gravity_20_20(c.e, c.x)), at_sample, abw<>::from_value(c.e), extract<>::from_value(c.x)};
    }

    /// Where the parts of corrected readings go: gravity 20/20, density at the sample's temperature in kg/m3, ethanol and extract as mass fractions.
    struct CorrectedArrays {
        double* gravity;
        double* at_sample;
        double* ethanol;
        double* extract;
    };

    /// correct for arrays of readings and temperatures in degC, see num::block_search: all parts NaN where correct throws or an input is NaN. They agree
    /// with correct to round-off, not to the last bit.
    void correct(const double* reading, const double* t, SampleWort, const CorrectedArrays& out, const std::ptrdiff_t n) const {
        const double water = icumsa_sps4::water(calibration_c_);
        float_in<icumsa_sps4::by_density<>>(reading, t, water, out.at_sample, out.extract, n);
        for (std::ptrdiff_t i = 0; i < n; ++i) {
            out.gravity[i] = wort_gravity::from_extract(out.extract[i], gravity_frame{});
            out.ethanol[i] = 0.0 * out.extract[i];
        }
    }
    void correct(const double* reading, const double* t, SampleSpirit, const CorrectedArrays& out, const std::ptrdiff_t n) const {
        const double water = oiml_r22::raw_density(0.0, calibration_c_);
        float_in<oiml_r22::by_density>(reading, t, water, out.at_sample, out.ethanol, n);
        const double water_20c = volume_at_20c::density(0.0);
        for (std::ptrdiff_t i = 0; i < n; ++i) {
            out.gravity[i] = volume_at_20c::density(out.ethanol[i]) / water_20c;
            out.extract[i] = 0.0 * out.ethanol[i];
        }
    }
    /// The same for washes of which one thing is known, for each its own value (sample.value is not looked at).
    void correct(const double* reading, const double* t, const SampleWash::known what, const double* known, const CorrectedArrays& out,
                 const std::ptrdiff_t n) const {
        if (what == SampleWash::known::strength) {
            const auto composition = [known](const double x, const std::size_t i) { return Composition{ethanol_of(known[i], x), x}; };
            // With strength known the least extract is none, the most that of a syrup; the guess is that of a wash nearly done.
            const auto most = [known](const std::size_t i) { return icumsa_sps4::extract_range.upper * (1.0 - first_ethanol(known[i])); };
            const auto allowed = [known](const std::size_t i) { return num::inside(known[i], oiml_r22::abw_range); };
            constexpr double guess = 0.02;
            float_in_wash(reading, t, composition, most, allowed, guess, out, n);
        } else {
            const auto composition = [known](const double e, const std::size_t i) { return Composition{e, known[i]}; };
            const auto most = [known](const std::size_t i) { return 1.0 - known[i] / icumsa_sps4::extract_range.upper; };
            const auto allowed = [known](const std::size_t i) { return num::inside(known[i], icumsa_sps4::extract_range); };
            constexpr double guess = 0.08;
            float_in_wash(reading, t, composition, most, allowed, guess, out, n);
        }
    }

    /// What the stem shows in a wash of known composition: the exact inverse of correct.
    ///   strength, real_extract   0 to 100 % and 0 to 70 % mass, together at most 100 %; temperature 0 to 40 degC
    ///   ->                       in units of the scale; NaN for NaN
    /// Throws RangeError outside. Source: glass_hydrometer, wash.
    [[nodiscard]] double reads(const abw<>& strength, const extract<>& real_extract, const celsius<>& temperature) const {
        const double e = strength.value();
        const double x = real_extract.value();
        const double t = temperature.value();
        detail::require_wash(e, x, t);
        const double shown = stem(e, x, t);
        if (std::isnan(shown) && !std::isnan(e) && !std::isnan(x) && !std::isnan(t)) {
            throw RangeError("a wash of " + format_quantity(detail::percent * e, "% mass") + " of ethanol and " +
                             format_quantity(detail::percent * x, "% extract") + " at " + format_quantity(t, "degC") + " lies outside the scale, " +
                             format_number(stem_range().lower) + " to " + format_quantity(stem_range().upper, scale_unit()));
        }
        return shown;
    }

    /// The same as plain numbers; NaN outside.
    [[nodiscard]] double stem(const double e, const double x, const double t) const {
        const double indicated = expansion(t) * wash::density(e, x, t);
        switch (scale_) {
            case hydrometer_scale::specific_gravity: return indicated * wash::water_specific_volume(e, x, calibration_c_) - meniscus_;
            case hydrometer_scale::plato: {
                const double rise = indicated - icumsa_sps4::water(calibration_c_);
                const auto excess = [&](const double w) { return sucrose_rise(w) - rise; };
                constexpr double usual = 0.1;
                return detail::percent * num::bracketed_newton<double>([&](const double w) { return wash::with_slope(excess, w); },
                                                                       stem_range().lower / detail::percent, stem_range().upper / detail::percent, usual) -
                       meniscus_;
            }
            case hydrometer_scale::density: return indicated - meniscus_;
        }
        return indicated;
    }

    [[nodiscard]] hydrometer_scale scale() const { return scale_; }

private:
    struct Composition {
        double e;  // ethanol, mass fraction
        double x;  // extract, mass fraction
    };

    [[nodiscard]] double expansion(const double t) const { return 1.0 + glass_expansion_ * (t - calibration_c_); }

    // Density the scale stands for, at the calibration temperature, kg/m3; water is the water the gravity scale is against.
    [[nodiscard]] double scale_density(const double reading, const double water) const {
        const double corrected = reading + meniscus_;
        switch (scale_) {
            case hydrometer_scale::specific_gravity: return corrected * water;
            case hydrometer_scale::plato: return icumsa_sps4::water(calibration_c_) + sucrose_rise(corrected / detail::percent);
            case hydrometer_scale::density: return corrected;
        }
        return corrected;
    }
    [[nodiscard]] double sucrose_rise(const double w) const { return w * icumsa_sps4::density_per_extract(w, calibration_c_); }

    [[nodiscard]] density<> sample_density(const double reading, const double t, const double water) const {
        require_inside("hydrometer reading", reading, scale_unit(), stem_range(), "no hydrometer shows that");
        return density<>::from_value(scale_density(reading, water) / expansion(t));
    }
    [[nodiscard]] std::string_view scale_unit() const {
        switch (scale_) {
            case hydrometer_scale::specific_gravity: return "SG";
            case hydrometer_scale::plato: return "degP";
            case hydrometer_scale::density: return "kg/m3";
        }
        return "";
    }
    // The widest scales made; anything beyond is a slip of the pen.
    [[nodiscard]] num::interval stem_range() const {
        switch (scale_) {
            case hydrometer_scale::specific_gravity: return {0.6, 2.0};
            case hydrometer_scale::plato: return {-10.0, detail::percent * icumsa_sps4::extract_range.upper};
            case hydrometer_scale::density: return {600.0, 2000.0};
        }
        return {0.0, 0.0};
    }
    // Several times the highest meniscus on a narrow stem; common practice, no source.
    [[nodiscard]] num::interval meniscus_range() const {
        switch (scale_) {
            case hydrometer_scale::specific_gravity: return {-0.02, 0.02};
            case hydrometer_scale::plato: return {-5.0, 5.0};
            case hydrometer_scale::density: return {-20.0, 20.0};
        }
        return {0.0, 0.0};
    }
    // Density of the samples, then their composition by the inverse of their density formula.
    template <class Inverse>
    void float_in(const double* reading, const double* t, const double water, double* at_sample, double* composition, const std::ptrdiff_t n) const {
        const num::interval stem = stem_range();
        for (std::ptrdiff_t i = 0; i < n; ++i) at_sample[i] = num::keep_if(num::inside(reading[i], stem), scale_density(reading[i], water) / expansion(t[i]));
        const std::array<const double*, 2> in{at_sample, t};
        num::solve_array<Inverse>(in.data(), composition, n);
        for (std::ptrdiff_t i = 0; i < n; ++i) at_sample[i] += 0.0 * composition[i];  // nothing where there is no such liquid
    }

    template <class CompositionOf, class Most, class Allowed>
    void float_in_wash(const double* reading, const double* t, const CompositionOf& composition, const Most& most, const Allowed& allowed, const double guess,
                       const CorrectedArrays& out, const std::ptrdiff_t n) const {
        constexpr double round_off = 1e-12;  // kg/m3
        const num::interval stem = stem_range();
        const double calibration_c = calibration_c_;
        const bool against_water = scale_ == hydrometer_scale::specific_gravity;
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
        num::block_search search;
        num::block expanded;
        num::block per_water;  // the density that the scale stands for is per_water * water + fixed
        num::block fixed;
        for (std::ptrdiff_t start = 0; start < n; start += static_cast<std::ptrdiff_t>(num::search_block)) {
            const auto from = static_cast<std::size_t>(start);
            const auto rest = static_cast<std::size_t>(n - start);
            const std::size_t length = rest < num::search_block ? rest : num::search_block;
            for (std::size_t i = 0; i < length; ++i) {
                const bool inside = allowed(from + i) && num::inside(t[from + i], wash::t_range) && num::inside(reading[from + i], stem);
                search.lower[i] = 0.0;
                search.upper[i] = num::keep_if(inside, most(from + i));
                search.x[i] = guess;
                expanded[i] = expansion(t[from + i]);
                per_water[i] = against_water ? scale_density(reading[from + i], 1.0) : 0.0;
                fixed[i] = against_water ? 0.0 : scale_density(reading[from + i], 1.0);
            }
            const auto excess = [&, calibration_c](const double unknown, const std::size_t i) {
                const Composition c = composition(unknown, from + i);
                const double water = 1.0 / wash::water_specific_volume(c.e, c.x, calibration_c);
                return expanded[i] / wash::specific_volume(c.e, c.x, t[from + i]) - (per_water[i] * water + fixed[i]);
            };
            num::secant_roots(excess, search, round_off, length);
            for (std::size_t i = 0; i < length; ++i) {
                const Composition c = composition(search.x[i], from + i);
                out.gravity[from + i] = wash::gravity_20_20(c.e, c.x);
                out.at_sample[from + i] = 1.0 / wash::specific_volume(c.e, c.x, t[from + i]);
                const double refused = 0.0 * search.x[i];  // NaN where there is no such wash, and then what is known of it as well
                out.ethanol[from + i] = c.e + refused;
                out.extract[from + i] = c.x + refused;
            }
        }
    }

    // Ethanol by mass of a wash of strength q and extract x without branches: e = q rho_ethanol v(e, x), whose right side hardly depends on e, by
    // Aitken's extrapolation of that iteration (Aitken 1926), three rounds of which leave round-off.
    static double ethanol_of(const double q, const double x) {
        const double mass = q * volume_at_20c::ethanol_density;
        const auto next = [mass, x](const double e) {
            const double once = mass * wash::specific_volume(e, x, oiml_r22::reference_c);
            const double twice = mass * wash::specific_volume(once, x, oiml_r22::reference_c);
            const double bend = (twice - once) - (once - e);
            return bend == 0.0 ? twice : e - (once - e) * (once - e) / bend;
        };
        return next(next(next(first_ethanol(q))));
    }
    // As if volumes were added.
    static constexpr double first_ethanol(const double q) { return volume_at_20c::first_guess(q); }
    // A wash of q by volume never has more ethanol by mass than a spirit of q.
    static double most_ethanol(const double q) { return volume_at_20c::to_abw(q); }

    hydrometer_scale scale_;
    double calibration_c_;
    double glass_expansion_;
    double meniscus_;
};

}  // namespace ferment
