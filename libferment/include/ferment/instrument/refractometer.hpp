#pragma once
// How a refractometer reading is corrected. The instrument sees the refractive index of the sample at its own temperature; a Brix scale names
// it by the sucrose solution that has this index at 20 degC, a compensated Brix scale by the one that has it at the sample's temperature.

#include <algorithm>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/solve.hpp>
#include <ferment/core/source.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/liquid/refraction.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/wash.hpp>
#include <string_view>

namespace ferment {

inline constexpr source refractometer_reading{
    "refractometer_reading",
    "true % sucrose at 20 degC from the reading of a refractometer at another temperature",
    "equal refractive index, with sucrose_refraction; compare OIV-MA-AS2-02 table I and the interstate table of refractometer corrections",
    "10 <= t <= 40 degC; 0 to 70 on the Brix scale",
    "0.025 degBx against the interstate table 10-21 degC, 0.035 against OIV table I 10-17 degC; no published correction above 21 degC was found",
};

inline constexpr source compensated_refractometer{
    "compensated_refractometer",
    "temperatures over which a refractometer with automatic compensation is trusted",
    "a habit of makers and users",
    "10 to 30 degC",
    "not known; takes every sample for sucrose solution",
    source_status::common_practice,
};
inline constexpr num::interval compensated_range{10.0, 30.0};  // degC, common practice, no source

enum class refractometer_scale { brix, compensated_brix, refractive_index };

/// What bends the light. A scale made for sucrose reads starch hydrolysate about 4.5 % (of the extract) high, glucose 0.8 % low.
enum class refractometer_sugar { sucrose, starch_hydrolysate };

/// A corrected reading of a wort.
struct CorrectedRefraction {
    extract<> brix;           ///< degrees Brix at 20 degC: the sucrose solution of equal index
    extract<> dry_matter;     ///< extract by mass; differs from brix for starch hydrolysate only
    double refractive_index;  ///< nD at 20 degC of a sucrose solution of this Brix
    double at_sample;         ///< nD at the sample's temperature
};

/// A corrected reading of a wash.
struct RefractedWash {
    abw<> strength;          ///< ethanol by mass
    extract<> real_extract;  ///< extract by mass
    double at_sample;        ///< nD at the sample's temperature
};

/// A refractometer.
class Refractometer {
public:
    /// scale   what it shows: degrees Brix without or with automatic temperature compensation, or nD
    /// zero    what it shows too much in pure water at 20 degC, in units of the scale; taken off every reading
    /// Throws InputError where zero is not finite.
    explicit Refractometer(const refractometer_scale scale = refractometer_scale::brix, const double zero = 0.0) : scale_(scale), zero_(zero) {
        if (!std::isfinite(zero_)) {
            throw InputError("refractometer: the zero error must be a number");
        }
        require_inside("zero error of the refractometer", zero_, scale_unit(), zero_range(), "one further out belongs adjusted");
    }

    /// nD of the sample at its own temperature, whatever the sample is.
    ///   reading   in units of the scale, a plain number or an Uncertain
    ///   t         temperature of the sample, degC, 10 to 40 (10 to 30 where compensated)
    ///   ->        dimensionless; NaN outside the range or for NaN
    template <class T>
    [[nodiscard]] T index_at_sample(const T& reading, const T& t) const {
        const T shown = reading - zero_;
        const T none = 0.0 * shown;
        const auto in_range = num::mask<T>(num::inside(t, t_range()) && num::inside(shown, scale_range()));
        switch (scale_) {
            case refractometer_scale::brix:
                return num::keep_if(in_range, sucrose_refraction::index_and_slope(as_fraction(shown), T(none + sucrose_refraction::reference_c)).value);
            case refractometer_scale::compensated_brix: return num::keep_if(in_range, sucrose_refraction::index_and_slope(as_fraction(shown), t).value);
            case refractometer_scale::refractive_index: break;
        }
        return num::keep_if(in_range, shown);
    }

    /// What the refractometer shows in a wash of known composition.
    ///   e, x   ethanol and extract as mass fractions of the wash; t  degC, 10 to 40 (10 to 30 where compensated)
    ///   ->     in units of the scale; NaN outside the range, for NaN, and where the wash is off a Brix scale
    template <class T>
    [[nodiscard]] T shows(const T& e, const T& x, const T& t) const {
        const T n = num::keep_if(num::inside(t, t_range()), wash_refraction::index(e, x, t));
        switch (scale_) {
            case refractometer_scale::brix:
                return detail::percent * sucrose_refraction::extract_from_index(n, T(0.0 * n + sucrose_refraction::reference_c)) + zero_;
            case refractometer_scale::compensated_brix: return detail::percent * sucrose_refraction::extract_from_index(n, t) + zero_;
            case refractometer_scale::refractive_index: break;
        }
        return n + zero_;
    }

    /// Corrects a reading in a wort (extract and water, nothing fermented).
    ///   reading       in units of the scale, 0 to 70 or an nD
    ///   temperature   10 to 40 degC; 10 to 30 where compensated; 20 to 40 for starch hydrolysate
    ///   sugar         what the extract is
    ///   ->            Brix and nD at 20 degC, dry matter; all NaN for NaN
    /// Throws RangeError where no solution of 0 to 70 % (hydrolysate: 0 to 66 %) has that index. Source: refractometer_reading; starch hydrolysate
    /// by its own index at the sample's temperature (hydrolysate_refraction), its Brix by its index at 20 degC. A compensated scale moves a
    /// hydrolysate as if it were sucrose, 0.03 degBx apart at 30 degC.
    [[nodiscard]] CorrectedRefraction correct(const double reading, const celsius<>& temperature,
                                              const refractometer_sugar sugar = refractometer_sugar::sucrose) const {
        const double t = temperature.value();
        const double n = checked_index(reading, t);
        constexpr double reference_c = sucrose_refraction::reference_c;
        if (sugar == refractometer_sugar::starch_hydrolysate) {
            const extract<> dry_matter = hydrolysate_from_refractive_index(n, temperature);
            const double at_reference = hydrolysate_refraction::index(dry_matter.value(), reference_c);
            return {extract<>::from_value(sucrose_refraction::extract_from_index(at_reference, reference_c)), dry_matter, at_reference, n};
        }
        const extract<> brix = brix_from_refractive_index(n, temperature);
        return {brix, brix, sucrose_refraction::index(brix.value(), reference_c), n};
    }

    /// Corrects a reading in a wash of which strength or real extract is known.
    ///   reading, temperature   as above
    ///   sample                 strength (0 to 80 % vol) or real extract (0 to 40 % mass)
    ///   ->                     strength, real extract on the sucrose scale; NaN for NaN
    /// Throws RangeError where no such wash has that index. Source: wash_refraction.
    [[nodiscard]] RefractedWash correct(const double reading, const celsius<>& temperature, const SampleWash& sample) const {
        const double t = temperature.value();
        const double n = checked_index(reading, t);
        if (sample.what == SampleWash::known::extract) {
            const extract<> x = extract<>::from_value(sample.value);
            return {wash_abw_from_refractive_index(n, x, temperature), x, n};
        }
        const double q = sample.value;
        require_inside("abv", detail::percent * q, "% vol", strength_range, wash_refraction::from);
        const auto excess = [&](const double x) { return wash_refraction::raw_index(wash::abw_from_abv(q, x), x, t) - n; };
        // A wash of q by volume never has more ethanol by mass than a spirit of q.
        // So little that one less it is one keeps its room all the same.
        constexpr double round_off = 1e-15;
        const double spirit = volume_at_20c::to_abw(q);
        const double most = icumsa_sps4::extract_range.upper * (1.0 - (spirit == 0.0 ? 0.0 : std::max(spirit, round_off)));
        const num::interval possible{n + excess(0.0), n + excess(most)};
        detail::require_index(n, possible.lower, possible.upper, "washes of this strength at this temperature");
        constexpr double usual = 0.03;
        const double x = num::bracketed_newton<double>([&](const double y) { return wash::with_slope(excess, y); }, 0.0, most, usual);
        return {abw<>::from_value(wash::abw_from_abv(q, x)), extract<>::from_value(x), n};
    }

    /// What the refractometer shows in a wash of known composition: the inverse of correct.
    ///   strength, real_extract   0 to 100 % and 0 to 70 % mass, together at most 100 %; temperature 10 to 40 degC (10 to 30 where compensated)
    ///   ->                       in units of the scale; NaN for NaN
    /// Throws RangeError outside, and where the wash is off the Brix scale (below water, above 70 %). Source: wash_refraction.
    [[nodiscard]] double reads(const abw<>& strength, const extract<>& real_extract, const celsius<>& temperature) const {
        const double t = temperature.value();
        require_temperature(t);
        const double n = wash_refractive_index(strength, real_extract, temperature);
        if (scale_ != refractometer_scale::refractive_index) {
            const double scale_t = scale_ == refractometer_scale::brix ? sucrose_refraction::reference_c : t;
            detail::require_index(n, sucrose_refraction::index(0.0, scale_t), sucrose_refraction::index(sucrose_refraction::extract_range.upper, scale_t),
                                  "the Brix scale ends there");
        }
        return shows(strength.value(), real_extract.value(), t);
    }

    [[nodiscard]] refractometer_scale scale() const { return scale_; }

private:
    static constexpr num::interval strength_range{0.0, 80.0};  // % vol, 74 % mass: where the index still rises with the ethanol

    template <class T>
    static T as_fraction(const T& shown) {
        return shown * (1.0 / detail::percent);
    }
    [[nodiscard]] num::interval t_range() const { return scale_ == refractometer_scale::compensated_brix ? compensated_range : sucrose_refraction::t_range; }
    [[nodiscard]] num::interval scale_range() const {
        // From less than any liquid here to more: anything beyond is a slip of the pen.
        constexpr num::interval glass{1.3, 1.55};
        return scale_ == refractometer_scale::refractive_index ? glass : num::interval{0.0, detail::percent * sucrose_refraction::extract_range.upper};
    }
    // Common practice, no source.
    [[nodiscard]] num::interval zero_range() const {
        constexpr num::interval index{-0.015, 0.015};
        constexpr num::interval brix{-10.0, 10.0};
        return scale_ == refractometer_scale::refractive_index ? index : brix;
    }
    [[nodiscard]] std::string_view scale_unit() const { return scale_ == refractometer_scale::refractive_index ? "" : "degBx"; }

    void require_temperature(const double t) const {
        require_inside("temperature", t, "degC", t_range(),
                       scale_ == refractometer_scale::compensated_brix ? std::string_view("where automatic compensation is trusted; common practice, no source")
                                                                       : sucrose_refraction::from.citation);
    }
    [[nodiscard]] double checked_index(const double reading, const double t) const {
        require_temperature(t);
        require_inside("refractometer reading", reading - zero_, scale_unit(), scale_range(), "no refractometer of this scale shows that");
        return index_at_sample(reading, t);
    }

    refractometer_scale scale_;
    double zero_;
};

}  // namespace ferment
