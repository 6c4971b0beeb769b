#pragma once
// What goes into the boiler: how many charges a wash makes, and what each one is with the heads and tails of the last run in it.

#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/core/source.hpp>
#include <ferment/liquid/enthalpy.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/still/cautions.hpp>
#include <limits>
#include <string>
#include <string_view>

namespace ferment {

inline constexpr source head_space_source{
    "still_head_space",
    "share of the boiler that stays empty",
    "a quarter to three tenths for a wash, which foams; for comparison the rules of cognac, as told by its interprofessional site, allow 25 hL of low wines in "
    "a still of 30 hL, a sixth empty",
    "10 to 90 % of the boiler",
    "a habit; a wash that foams more needs more",
    source_status::common_practice,
};

/// The usual share; head_space_source.
inline constexpr double usual_head_space_share = 0.25;

/// A still and where it stands. Shares are fractions.
struct StillSetup {
    double boiler_l = 0.0;                                                                          ///< brim-full
    double head_space_share = usual_head_space_share;                                               ///< of the boiler, that the charge leaves empty
    double heating_kw = 0.0;                                                                        ///< what the heating draws
    double heat_loss_share = 0.0;                                                                   ///< of the heating, that never reaches the boiler
    double heat_loss_w_per_k = 0.0;                                                                 ///< of the hot boiler and head to the room
    double still_heat_kj_per_k = 0.0;                                                               ///< heat capacity of the metal that gets hot
    double pressure_kpa = standard_atmosphere::sea_level_pressure / detail::pascal_per_kilopascal;  ///< absolute, in the pot
};

/// Water, ethanol and extract by mass; every liquid of a run is one.
struct StillLiquid {
    double mass_kg = 0.0;
    double abw = 0.0;      ///< mass fraction of ethanol
    double extract = 0.0;  ///< mass fraction of what does not boil

    [[nodiscard]] double ethanol_kg() const { return mass_kg * abw; }
    [[nodiscard]] double extract_kg() const { return mass_kg * extract; }
    [[nodiscard]] double volatile_kg() const { return mass_kg * (1.0 - extract); }
    [[nodiscard]] double volume_l() const { return litres_per_cubic_metre * mass_kg * wash::specific_volume(abw, extract, reference_20c::t); }  ///< at 20 degC
    [[nodiscard]] double abv() const { return wash::abv(abw, extract); }                                                            ///< volume fraction
    [[nodiscard]] double pure_alcohol_l() const { return litres_per_cubic_metre * ethanol_kg() / volume_at_20c::ethanol_density; }  ///< at 20 degC
};

namespace detail {

/// A plan with a hole in it is no plan: NaN and infinite inputs are errors in this folder.
inline void require_number(const std::string_view name, const double x, const std::string_view unit, const num::interval range, const std::string_view why) {
    if (!std::isfinite(x)) {
        throw InputError(std::string(name) + " is " + (std::isnan(x) ? "not a number" : "infinite") + "; it must be a finite number" +
                         (unit.empty() ? std::string() : " in " + std::string(unit)));
    }
    require_inside(name, x, unit, range, why);
}

/// The same for a fraction, told in percent.
inline void require_share_of(const std::string_view name, const double x, const num::interval range, const std::string_view why) {
    require_number(name, percent * x, "%", {percent * range.lower, percent * range.upper}, why);
}

inline void require_more_than_none(const std::string_view name, const double x, const std::string_view unit) {
    require_number(name, x, unit, any_amount, "");
    if (x == 0.0) {
        throw RangeError(std::string(name) + " " + format_quantity(x, unit) + " must be more than zero");
    }
    require_workable(name, x, unit);
}

inline constexpr num::interval head_space_range{0.10, 0.90};

inline void require_setup(const StillSetup& still) {
    require_more_than_none("boiler volume", still.boiler_l, "L");
    require_share_of("head space", still.head_space_share, head_space_range, "a boiling liquid expands by 4 % and foams");
    require_number("pressure", still.pressure_kpa, "kPa",
                   {wash_vapour::pressure_range.lower / pascal_per_kilopascal, wash_vapour::pressure_range.upper / pascal_per_kilopascal},
                   wash_vapour::from.citation);
}

inline void require_liquid(const StillLiquid& liquid) {
    require_more_than_none("mass of the charge", liquid.mass_kg, "kg");
    require_share_of("abw", liquid.abw, oiml_r22::abw_range, wash::from.citation);
    require_share_of("extract", liquid.extract, wash_vapour::extract_range, wash_vapour::from.citation);
    require_wash(liquid.abw, liquid.extract, oiml_r22::reference_c);
}

inline StillLiquid mixed(const StillLiquid& a, const StillLiquid& b) {
    const double total = a.mass_kg + b.mass_kg;
    return {total, (a.ethanol_kg() + b.ethanol_kg()) / total, (a.extract_kg() + b.extract_kg()) / total};
}

}  // namespace detail

/// A liquid by its volume, as it is measured.
///   amount            at 20 degC, more than zero
///   strength          ethanol, % vol of the liquid at 20 degC
///   extract_by_mass   0 to 30 % mass; zero for a spirit
///   ->                the same by mass
/// Throws InputError for what is no number, RangeError outside. Source: wash.
inline StillLiquid still_liquid(const volume<>& amount, const abv<>& strength, const extract<>& extract_by_mass) {
    const double litres = value_in(amount, litre);
    const double x = extract_by_mass.value();
    detail::require_more_than_none("volume of the liquid", litres, "L");
    detail::require_share_of("extract", x, wash_vapour::extract_range, wash_vapour::from.citation);
    detail::require_number("abv", detail::percent * strength.value(), "% vol", {0.0, detail::percent * wash::strongest(x)}, wash::from.citation);
    const double e = wash_abw(strength, extract_by_mass).value();
    detail::require_wash(e, x, oiml_r22::reference_c);  // next to pure ethanol round-off can leave no room for a trace of extract
    return {amount.value() * wash::density(e, x, oiml_r22::reference_c), e, x};
}

/// Heads and tails of the last run that go back into each charge.
struct Reserve {
    double volume_l = 0.0;  ///< at 20 degC, into each charge; zero: none
    double abv = 0.0;       ///< volume fraction at 20 degC
};

/// How a wash goes through a still.
struct ChargePlan {
    std::size_t count = 0;          ///< equal charges
    StillLiquid charge;             ///< one charge, reserve and all
    StillLiquid wash;               ///< the wash in one charge
    StillLiquid reserve;            ///< the heads and tails in one charge
    double charge_l = 0.0;          ///< of one charge at 20 degC
    double usable_l = 0.0;          ///< what the boiler may take
    double head_space_share = 0.0;  ///< of the boiler, really left empty
    std::string_view cautions = still_cautions;
};

/// The fewest equal charges that a wash fits into.
///   strained   the wash, free of grain, all of it
///   reserve    heads and tails of the last run, the same into each charge, added by mass
///   still      boiler and head space are used
///   ->         number and content of the charges; wash and ethanol are kept to round-off
/// Throws InputError for what is no number, RangeError outside and where the reserve alone fills the boiler.
/// Source: wash for the volumes, head_space_source for the head space.
inline ChargePlan plan_charges(const StillLiquid& strained, const Reserve& reserve, const StillSetup& still) {
    detail::require_liquid(strained);
    detail::require_setup(still);
    detail::require_number("volume of the reserve", reserve.volume_l, "L", detail::any_amount, "");
    const StillLiquid back =
        reserve.volume_l == 0.0 ? StillLiquid{} : still_liquid(reserve.volume_l * litre, abv<>::from_value(reserve.abv), extract<>::from_value(0.0));
    const double usable = still.boiler_l * (1.0 - still.head_space_share);
    if (reserve.volume_l >= usable) {
        detail::require_number("volume of the reserve", reserve.volume_l, "L", {0.0, usable}, "it leaves no room for the wash");
        throw RangeError("volume of the reserve " + format_quantity(reserve.volume_l, "L") + " fills the boiler; it leaves no room for the wash");
    }
    const auto with = [&](const double n) { return detail::mixed({strained.mass_kg / n, strained.abw, strained.extract}, back); };
    constexpr double round_off = 1e-12;
    const auto fits = [&](const double n) { return with(n).volume_l() <= usable * (1.0 + round_off); };
    // A guess from volumes as if they could be added; mixing shrinks them (wash and strong heads) or lets them grow (wash and weak tails).
    constexpr double most_charges = 1e6;
    double n = std::ceil(strained.volume_l() / (usable - reserve.volume_l));
    if (n > most_charges) {
        throw RangeError("the wash of " + format_quantity(strained.volume_l(), "L") + " would make " + format_number(n) + " charges; at most " +
                         format_number(most_charges) + " are counted");
    }
    while (n > 1.0 && fits(n - 1.0)) {
        n -= 1.0;
    }
    while (!fits(n)) {
        n += 1.0;
    }
    ChargePlan plan;
    plan.count = static_cast<std::size_t>(n);
    plan.charge = with(n);
    plan.wash = {strained.mass_kg / n, strained.abw, strained.extract};
    plan.reserve = back;
    plan.charge_l = plan.charge.volume_l();
    plan.usable_l = usable;
    plan.head_space_share = 1.0 - plan.charge_l / still.boiler_l;
    return plan;
}

/// The same without a reserve.
inline ChargePlan plan_charges(const StillLiquid& strained, const StillSetup& still) {
    return plan_charges(strained, Reserve{}, still);
}

}  // namespace ferment
