#pragma once
// What a grain is made of, as weighed, and how a lot's certificate takes the place of a table's mean.

#include <algorithm>
#include <array>
#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/stoichiometry.hpp>
#include <ferment/core/uncertain.hpp>
#include <optional>
#include <string>
#include <string_view>

namespace ferment {

/// A grain, flour, flake, malt, root or sugar. Every part is a mass fraction of the material as weighed, with its moisture.
struct Grain {
    std::string name;
    std::string form;  ///< grain, grits, flour, rolled, flakes, gelatinised (cooked, baked, puffed), malt, root, starch or sugar

    measured moisture;
    measured starch;  ///< anhydroglucose; the method that measured it matters, see starch_method
    measured sugars;  ///< free fermentable sugars, anhydrous
    measured protein;
    measured fat;
    measured fibre;
    measured ash;

    /// How much of the sugars are disaccharides (sucrose, maltose), 0 to 1 by mass. They take up water when they are split: one kg gives
    /// 1.0526 kg of hexose. The rest counts as hexose already.
    double disaccharide_share = 0.0;

    std::string starch_method;  ///< enzymatic, polarimetric, by difference, ...: methods differ by up to five points
    std::string source;

    friend bool operator==(const Grain&, const Grain&) = default;

    /// kg of hexose that one kg of the sugars gives.
    [[nodiscard]] double hexose_per_sugar() const { return 1.0 + disaccharide_share * (stoichiometry::hexose_per_disaccharide - 1.0); }
};

namespace detail {

struct grain_part {
    std::string_view key;
    measured Grain::*member;
};

inline constexpr std::array<grain_part, 7> grain_parts{{{"moisture", &Grain::moisture},
                                                        {"starch", &Grain::starch},
                                                        {"sugars", &Grain::sugars},
                                                        {"protein", &Grain::protein},
                                                        {"fat", &Grain::fat},
                                                        {"fibre", &Grain::fibre},
                                                        {"ash", &Grain::ash}}};

inline constexpr double grain_percent = 100.0;

/// A part of a grain, or of its dry matter, must be a fraction with a sensible doubt.
inline void require_part(const std::string& what, const measured& part) {
    constexpr num::interval fraction{0.0, 1.0};
    if (std::isnan(part.value) || std::isnan(part.standard_uncertainty)) {
        throw InputError(what + " is not a number");
    }
    if (!num::inside(part.value, fraction)) {
        throw_range_error(what, grain_percent * part.value, "%", {0.0, grain_percent}, "share of the mass as weighed");
    }
    if (!num::inside(part.standard_uncertainty, fraction)) {
        throw_range_error("standard uncertainty of " + what, grain_percent * part.standard_uncertainty, "%", {0.0, grain_percent},
                          "share of the mass as weighed");
    }
}

}  // namespace detail

/// The parts may add up to more than the whole by no more than this many combined standard uncertainties, since they are measured apart.
inline constexpr double grain_sum_coverage = 2.0;
/// And never closer than the rounding of a printed table.
inline constexpr double grain_sum_rounding = 0.005;
inline constexpr double grain_sum_roundoff = 1e-9;  // of binary arithmetic

/// Checks a grain: a name, every part 0 to 100 %, their sum at most 100 % within the stated uncertainty. Returns the grain.
/// Throws InputError or RangeError naming the grain, the part, its value in % and what is allowed.
inline const Grain& validate(const Grain& grain) {
    if (grain.name.empty()) {
        throw InputError("a grain needs a name");
    }
    double sum = 0.0;
    double variance = 0.0;
    for (const detail::grain_part& part : detail::grain_parts) {
        const measured& x = grain.*part.member;
        detail::require_part(std::string(part.key) + " of " + shortened(grain.name), x);
        sum += x.value;
        variance += x.standard_uncertainty * x.standard_uncertainty;
    }
    if (!num::inside(grain.disaccharide_share, {0.0, 1.0})) {
        throw_range_error("disaccharide share of the sugars of " + shortened(grain.name), detail::grain_percent * grain.disaccharide_share, "%",
                          {0.0, detail::grain_percent}, "share of the sugars by mass");
    }
    // These three enter the mass balance, where the rest of the dry matter is what they leave.
    const double balanced = grain.moisture.value + grain.starch.value + grain.sugars.value;
    if (balanced > 1.0 + grain_sum_roundoff) {
        throw_range_error("moisture, starch and sugars of " + shortened(grain.name) + " together", detail::grain_percent * balanced, "%",
                          {0.0, detail::grain_percent}, "the rest of the dry matter cannot be negative");
    }
    if (grain.moisture.value >= 1.0) {
        throw InputError("moisture of " + shortened(grain.name) + " 100 % leaves no dry matter; it must be below 100 %");
    }
    const double most = 1.0 + std::max(grain_sum_coverage * std::sqrt(variance), grain_sum_rounding);
    if (sum > most) {
        throw_range_error("sum of moisture, starch, sugars, protein, fat, fibre and ash of " + shortened(grain.name), detail::grain_percent * sum, "%",
                          {0.0, detail::grain_percent * most}, "the parts of a whole, within twice their combined standard uncertainty");
    }
    return grain;
}

/// What a figure of a certificate refers to.
enum class basis { as_is, dry };

/// The figures of a lot's certificate; what it does not state stays empty.
struct Analysis {
    std::optional<measured> moisture;  ///< always as weighed
    std::optional<measured> starch;
    std::optional<measured> sugars;
    std::optional<measured> protein;
    std::optional<measured> fat;
    std::optional<measured> fibre;
    std::optional<measured> ash;
    basis on = basis::as_is;  ///< what all figures but the moisture refer to
    std::string source;       ///< for example "certificate, lot 12"
};

/// The grain of this lot: what the certificate states replaces the table; what it does not state keeps its share of the dry matter.
///   analysis   fractions 0 to 1; on a dry basis they are brought to the lot's moisture
///   ->         a checked grain
/// Throws InputError or RangeError as validate does, and where the certificate states nothing.
inline Grain with_analysis(const Grain& grain, const Analysis& analysis) {
    validate(grain);
    const std::array<std::optional<measured>, 7> stated{analysis.moisture, analysis.starch, analysis.sugars, analysis.protein,
                                                        analysis.fat,      analysis.fibre,  analysis.ash};
    if (std::none_of(stated.begin(), stated.end(), [](const auto& x) { return x.has_value(); })) {
        throw InputError("the analysis of " + shortened(grain.name) + " states nothing; give moisture, starch, sugars, protein, fat, fibre or ash in %");
    }
    for (std::size_t i = 0; i < stated.size(); ++i) {
        if (stated[i]) {
            detail::require_part(std::string(detail::grain_parts[i].key) + " of " + shortened(grain.name), *stated[i]);
        }
    }
    Grain lot = grain;
    if (stated[0]) {
        lot.moisture = *stated[0];
    }
    const double dry = 1.0 - lot.moisture.value;
    const double rescale = dry / (1.0 - grain.moisture.value);
    for (std::size_t i = 1; i < stated.size(); ++i) {
        measured& part = lot.*detail::grain_parts[i].member;
        const double scale = !stated[i] ? rescale : analysis.on == basis::dry ? dry : 1.0;
        const measured from = stated[i].value_or(part);
        part = {from.value * scale, from.standard_uncertainty * scale};
    }
    if (stated[1]) {
        lot.starch_method = "as the certificate";
    }
    lot.source = (analysis.source.empty() ? std::string("certificate") : analysis.source) + "; the rest: " + grain.source;
    validate(lot);
    return lot;
}

}  // namespace ferment
