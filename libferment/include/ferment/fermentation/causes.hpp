#pragma once
// How a fermentation can stand, and what may be behind it.

#include <array>
#include <cstddef>
#include <ferment/core/source.hpp>
#include <ferment/fermentation/kinetics.hpp>
#include <string_view>

namespace ferment {

/// Where a fermentation stands.
///   on_course   neither weaker now nor done later than nine tenths of the forecasts made at pitching
///   slow        one of the two, but working
///   stopped     not done, and giving off next to nothing
///   finished    no open starch and no sugar left
enum class standing { on_course, slow, stopped, finished };
inline constexpr std::size_t standing_count = 4;

constexpr std::string_view to_string(const standing s) {
    switch (s) {
        case standing::on_course: return "on course";
        case standing::slow: return "slow";
        case standing::stopped: return "stopped";
        case standing::finished: return "finished";
    }
    return "unknown";
}

/// What may be behind the readings, as far as the model can tell such things apart.
///   as_planned        what was planned, within the usual spread
///   cold              the mash stands colder than was said
///   under_pitched     much less live yeast than was said
///   yeast_stopped     the yeast gives up while sugar still stands
///   enzyme_limited    much less enzyme action than the dose should have
///   enzyme_spent      enzymes that lose their strength within days, with starch left; weighed only where an iodine test was made, which alone
///                     tells it from a want of starch
///   starch_exhausted  less starch to dissolve than the bill promises: it ends early
///   reading_error     one gravity reading is far off
enum class cause { as_planned, cold, under_pitched, yeast_stopped, enzyme_limited, enzyme_spent, starch_exhausted, reading_error };
inline constexpr std::size_t cause_count = 8;

constexpr std::string_view to_string(const cause c) {
    switch (c) {
        case cause::as_planned: return "as planned";
        case cause::cold: return "colder than was said";
        case cause::under_pitched: return "under-pitched";
        case cause::yeast_stopped: return "yeast stopped early";
        case cause::enzyme_limited: return "enzyme-limited";
        case cause::enzyme_spent: return "enzymes spent early";
        case cause::starch_exhausted: return "starch exhausted early";
        case cause::reading_error: return "reading error";
    }
    return "unknown";
}

/// What each cause means to the model: another prior for one parameter.
struct cause_model {
    static constexpr source from{
        "cause_model",
        "what goes wrong with a no-cook wash, how often and how far",
        "estimates: 58 of a hundred batches run as planned, the other causes are about equally frequent; see the figures beside them",
        "ordinary practice",
        "itself only an estimate",
        source_status::common_practice,
    };
    cause what;
    double before;  ///< probability before any reading
    kinetic::index parameter;
    double shift;   ///< of the median: added on the normal scale, a factor on the log scale, a factor on the odds on the logit scale
    double spread;  ///< instead of the parameter's own

    static constexpr double gravity_error = 0.006;  // six points: a misread line, bubbles on the stem, a sample full of grain
};

// clang-format off
inline constexpr std::array<cause_model, cause_count> cause_models{{
    {cause::as_planned,       0.58, kinetic::count, 0.0, 0.0},
    {cause::cold,             0.07, kinetic::ambient_offset, -6.0, 2.0},       // K
    {cause::under_pitched,    0.07, kinetic::pitched_activity, 0.15, 0.6},
    {cause::yeast_stopped,    0.06, kinetic::ethanol_tolerance, 0.25, 0.6},    // at 40 g/kg of ethanol
    {cause::enzyme_limited,   0.07, kinetic::hydrolysis_rate, 0.25, 0.5},
    {cause::enzyme_spent,     0.03, kinetic::enzyme_decay, 30.0, 1.0},         // half-life of weeks becomes one of 15 h
    {cause::starch_exhausted, 0.06, kinetic::conversion_limit, 0.2, 0.6},      // on the odds: 88 % becomes 60 %
    {cause::reading_error,    0.06, kinetic::count, 0.0, 0.0},
}};
// clang-format on

}  // namespace ferment
