// The C interface: each function is the C++ door of the same name, with percent and degC at the edge. Nothing is computed here.

#include <ferment/c.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/batch/plan.hpp>
#include <ferment/fermentation/check.hpp>
#include <ferment/fermentation/end_point.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <ferment/instrument/alcoholometer.hpp>
#include <ferment/instrument/hydrometer.hpp>
#include <ferment/instrument/refractometer.hpp>
#include <ferment/liquid/carbon_dioxide.hpp>
#include <ferment/liquid/gravity.hpp>
#include <ferment/liquid/refraction.hpp>
#include <ferment/liquid/spirit.hpp>
#include <ferment/liquid/sucrose.hpp>
#include <ferment/liquid/vapour.hpp>
#include <ferment/liquid/wash.hpp>
#include <ferment/liquid/water.hpp>
#include <ferment/mash/grain_table.hpp>
#include <ferment/mash/potential.hpp>
#include <ferment/proofing/blend.hpp>
#include <ferment/proofing/bottling.hpp>
#include <ferment/proofing/dilution.hpp>
#include <ferment/proofing/sweetening.hpp>
#include <ferment/still/charge.hpp>
#include <ferment/still/duty.hpp>
#include <ferment/still/stripping.hpp>
#include <ferment/strength/gravity.hpp>
#include <ferment/strength/without_og.hpp>
#include <limits>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "guard.hpp"

using namespace ferment;
using namespace ferment_c;

// What the handles hold.
struct ferment_bill {
    Bill bill;
};
struct ferment_fermentation {
    Fermentation fermentation;
};
struct ferment_forecast {
    Forecast forecast;
};
struct ferment_check {
    Check check;
};
struct ferment_plan {
    Plan plan;
    std::string sheet;
};

namespace {

using ferment::detail::percent;

celsius<> degrees(const double t) {
    return t * degree_celsius;
}

// ---- enumerations count alike on both sides ----

template <class C, class Cpp>
constexpr bool same(const C c, const Cpp cpp) {
    return static_cast<int>(c) == static_cast<int>(cpp);
}
static_assert(same(FERMENT_SCALE_SG, hydrometer_scale::specific_gravity) && same(FERMENT_SCALE_PLATO, hydrometer_scale::plato) &&
              same(FERMENT_SCALE_DENSITY, hydrometer_scale::density));
static_assert(same(FERMENT_BRIX, refractometer_scale::brix) && same(FERMENT_COMPENSATED_BRIX, refractometer_scale::compensated_brix) &&
              same(FERMENT_REFRACTIVE_INDEX, refractometer_scale::refractive_index));
static_assert(same(FERMENT_SUCROSE, refractometer_sugar::sucrose) && same(FERMENT_STARCH_HYDROLYSATE, refractometer_sugar::starch_hydrolysate));
static_assert(same(FERMENT_DENSITY_BALANCE, gravity_method::density_balance) && same(FERMENT_BALLING, gravity_method::balling) &&
              same(FERMENT_CUTAIA_A, gravity_method::cutaia_a) && same(FERMENT_CUTAIA_Q, gravity_method::cutaia_q) &&
              same(FERMENT_DOEMENS_A, gravity_method::doemens_a) && same(FERMENT_HALL, gravity_method::hall) &&
              same(FERMENT_HMRC_226, gravity_method::hmrc_226) && gravity_methods.size() == FERMENT_HMRC_226 + 1);
static_assert(same(FERMENT_ON_COURSE, standing::on_course) && same(FERMENT_SLOW, standing::slow) && same(FERMENT_STOPPED, standing::stopped) &&
              same(FERMENT_FINISHED, standing::finished) && standing_count == FERMENT_FINISHED + 1);
static_assert(same(FERMENT_AS_PLANNED, cause::as_planned) && same(FERMENT_COLD, cause::cold) && same(FERMENT_UNDER_PITCHED, cause::under_pitched) &&
              same(FERMENT_YEAST_STOPPED, cause::yeast_stopped) && same(FERMENT_ENZYME_LIMITED, cause::enzyme_limited) &&
              same(FERMENT_ENZYME_SPENT, cause::enzyme_spent) && same(FERMENT_STARCH_EXHAUSTED, cause::starch_exhausted) &&
              same(FERMENT_READING_ERROR, cause::reading_error) && cause_count == FERMENT_READING_ERROR + 1);
static_assert(same(FERMENT_END_DISTILLATE_ABV, StripStop::when::distillate_abv) && same(FERMENT_END_POT_ABV, StripStop::when::pot_abv) &&
              same(FERMENT_END_COLLECTED_L, StripStop::when::collected_l) && same(FERMENT_END_HEAD_C, StripStop::when::head_c) &&
              same(FERMENT_END_RECOVERED, StripStop::when::recovered_share));
static_assert(same(FERMENT_CUT_ALCOHOL_SHARE, CutEnd::by::alcohol_share) && same(FERMENT_CUT_COLLECTED_L, CutEnd::by::collected_l) &&
              same(FERMENT_CUT_DISTILLATE_ABV, CutEnd::by::distillate_abv));
static_assert(same(FERMENT_FORE_SHOTS, cut_label::fore_shots) && same(FERMENT_HEADS, cut_label::heads) && same(FERMENT_HEARTS, cut_label::hearts) &&
              same(FERMENT_TAILS, cut_label::tails));
static_assert(same(FERMENT_INTO_WASH, recycle_into::wash) && same(FERMENT_INTO_LOW_WINES, recycle_into::low_wines));
static_assert(std::tuple_size_v<Spread> == FERMENT_QUANTILES && usual_members == FERMENT_USUAL_MEMBERS && usual_seed == FERMENT_USUAL_SEED);

gravity_frame reference_frame(const int reference, const int in_air) {
    const double air = choice<int>(in_air, 2, "in_air") == 0 ? 0.0 : conventional_air_density;
    switch (choice<enum ferment_reference>(reference, FERMENT_20_4 + 1, "reference of a gravity")) {
        case FERMENT_15_15: return frame_of<at_15_15>(air);
        case FERMENT_60F_60F: return frame_of<at_60f_60f>(air);
        case FERMENT_20_4: return frame_of<at_20_4>(air);
        case FERMENT_20_20: break;
    }
    return frame_of<at_20_20>(air);
}
gravity_method method_of(const int method) {
    return choice<gravity_method>(method, static_cast<int>(gravity_methods.size()), "gravity method");
}

// ---- to C: percent, and numbers with their doubt ----

ferment_measured doubted(const Uncertain& x, const double scale = 1.0) {
    return {scale * x.value(), scale * x.standard_uncertainty()};
}
ferment_measured in_percent(const Uncertain& x) {
    return doubted(x, percent);
}
ferment_measured in_percent(const measured& x) {
    return {percent * x.value, percent * x.standard_uncertainty};
}
measured fraction(const ferment_measured& x) {
    return {x.value / percent, x.standard_uncertainty / percent};
}

ferment_liquid liquid_of(const StillLiquid& x) {
    return {x.mass_kg, percent * x.abw, percent * x.extract, x.volume_l(), percent * x.abv(), x.pure_alcohol_l()};
}

SpiritMass weighed(const double strength, const double volume_l, const double temperature_c) {
    return weigh(volume_l * litre, abw_from_abv(strength * percent_vol), degrees(temperature_c));
}
ferment_spirit spirit_of(const SpiritMass& spirit, const double temperature_c) {
    return {value_in(abv_from_abw(strength_of(spirit)), percent_vol),
            value_in(strength_of(spirit), percent_mass),
            spirit.total.value(),
            spirit.ethanol.value(),
            value_in(volume_of(spirit, degrees(reference_20c::t)), litre),
            value_in(volume_of(spirit, degrees(temperature_c)), litre),
            value_in(pure_alcohol(spirit), litre)};
}
void give_dilution(ferment_dilution* const to, const Dilution& d, const double temperature_c) {
    if (any_nan(temperature_c, d.result.total.value(), d.result.ethanol.value(), d.water_volume.value())) {
        throw InputError("strengths, volume, water and temperatures of a dilution must be numbers");
    }
    give(to, {0, spirit_of(d.spirit, temperature_c), spirit_of(d.result, temperature_c), d.water.value(), value_in(d.water_volume, litre),
              value_in(d.contraction, litre)});
}

void copy_spread(double* const to, const Spread& spread, const double scale = 1.0) {
    std::transform(spread.begin(), spread.end(), to, [scale](const double x) { return scale * x; });
}

const char* text_of(const std::string_view literal) {
    return literal.data();  // literals end with a zero
}

/// A new handle: nothing is written unless all went well.
template <class Handle, class Make>
enum ferment_status create(Handle** const handle, const char* const name, const Make& make) noexcept {
    return guarded([&] {
        require_pointer(handle, name);
        *handle = std::make_unique<Handle>(Handle{make()}).release();
    });
}

// ---- from C ----

const Bill& bill_of(const ferment_bill* const bill) {
    require_pointer(bill, "bill");
    return bill->bill;
}
Assumptions assumptions_of(const ferment_assumptions* const given) {
    const ferment_assumptions a = taken(given, "assumptions");
    return {fraction(a.conversion), fraction(a.fermentation_efficiency), fraction(a.soluble_share_of_rest)};
}

Hydrometer hydrometer_of(const ferment_hydrometer* const given) {
    const ferment_hydrometer h = taken(given, "hydrometer");
    const auto scale = choice<hydrometer_scale>(h.scale, FERMENT_SCALE_DENSITY + 1, "scale of the hydrometer");
    return Hydrometer(scale, degrees(h.calibration_c), h.glass_expansion, h.meniscus);
}
Refractometer refractometer_of(const ferment_refractometer* const given) {
    const ferment_refractometer r = taken(given, "refractometer");
    return Refractometer(choice<refractometer_scale>(r.scale, FERMENT_REFRACTIVE_INDEX + 1, "scale of the refractometer"), r.zero);
}
SampleWash wash_known(const enum ferment_sample sample, const double known) {
    return {sample == FERMENT_WASH_OF_ABV ? SampleWash::known::strength : SampleWash::known::extract, known / percent};
}

StillSetup still_of(const ferment_still* const given, const char* const name) {
    const ferment_still s = taken(given, name);
    return {s.boiler_l, s.head_space / percent, s.heating_kw, s.heat_loss / percent, s.heat_loss_w_per_k, s.still_heat_kj_per_k, s.pressure_kpa};
}
StripStop end_of(const ferment_run& r) {
    const auto when = choice<StripStop::when>(r.end_by, FERMENT_END_RECOVERED + 1, "end of the stripping run");
    const bool plain = when == StripStop::when::collected_l || when == StripStop::when::head_c;
    return {when, plain ? r.end : r.end / percent};
}
RunConditions conditions_of(const ferment_run& r) {
    return {r.start_c, r.ambient_c, r.distillate_c, r.water_in_c, r.water_out_c};
}
int whole(const std::int64_t x, const char* const what, const int least, const int most) {
    require_inside(what, static_cast<double>(x), "", {static_cast<double>(least), static_cast<double>(most)}, "");
    return static_cast<int>(x);
}
int points_of(const ferment_run& r) {
    constexpr int least = 2;  // start and end
    constexpr int most = 10000;
    return whole(r.points, "points of the curve", least, most);
}

CutEnd cut_of(const std::int64_t by, const double end, const char* const name) {
    const auto what = choice<CutEnd::by>(by, FERMENT_CUT_DISTILLATE_ABV + 1, name);
    return {what, what == CutEnd::by::collected_l ? end : end / percent};
}
TakeOff take_off_of(const ferment_plan_request& r) {
    switch (choice<enum ferment_take_off>(r.take_off_by, FERMENT_AT_RATE + 1, "take-off")) {
        case FERMENT_AT_STRENGTH: return TakeOff::at_strength(r.take_off / percent, r.max_reflux);
        case FERMENT_AT_RATE: return TakeOff::at_rate(r.take_off);
        case FERMENT_AT_REFLUX: break;
    }
    return TakeOff::at_reflux(r.take_off);
}

Conditions conditions_of(const ferment_conditions& c) {
    Conditions out;
    out.mash_c = c.mash_c;
    if (c.logged_n != 0) {
        require_pointer(c.logged_hours, "logged_hours");
        require_pointer(c.logged_temperatures_c, "logged_temperatures_c");
        out.ambient = Ambient::logged({c.logged_hours, c.logged_hours + c.logged_n}, {c.logged_temperatures_c, c.logged_temperatures_c + c.logged_n});
    } else {
        out.ambient = Ambient::day_night(c.ambient_c, c.ambient_swing_c, c.ambient_warmest_hour);
    }
    out.vessel = {c.heat_transfer_w_per_m2_k, c.sunshine_w, c.noon_hour};
    return out;
}

std::vector<Reading> readings_of(const std::size_t n, const ferment_reading* const given) {
    std::vector<Reading> readings;
    if (n == 0) return readings;
    require_pointer(given, "readings");
    const std::size_t step = given->size;  // of the program's struct, which is older or newer than this one
    require_size<ferment_reading>(step, "readings");
    readings.reserve(n);
    const auto* at = reinterpret_cast<const unsigned char*>(given);
    for (std::size_t i = 0; i < n; ++i, at += step) {
        const auto* const entry = reinterpret_cast<const ferment_reading*>(at);
        if (entry->size != step) throw InputError("readings of different sizes: set `size` in each with ferment_reading_init");
        const ferment_reading r = taken(entry, "readings");
        const auto measurement = [](const ferment_measured& x) {
            return std::isnan(x.value) ? std::nullopt : std::optional(measured{x.value, x.standard_uncertainty});
        };
        constexpr int not_tested = -1;
        const auto iodine = choice<int>(r.iodine - not_tested, 3, "iodine + 1") + not_tested;
        readings.push_back({r.time_h, measurement(r.gravity), measurement(r.temperature_c), measurement(r.co2_lost_kg),
                            iodine == not_tested ? std::nullopt : std::optional(iodine == 1)});
    }
    return readings;
}

}  // namespace

// ---- usual values ----

namespace ferment_c {

template <>
ferment_hydrometer usual() {
    return {sizeof(ferment_hydrometer), reference_20c::t, conventional_glass_expansion, 0.0, FERMENT_SCALE_SG};
}
template <>
ferment_refractometer usual() {
    return {sizeof(ferment_refractometer), 0.0, FERMENT_BRIX};
}
template <>
ferment_assumptions usual() {
    const Assumptions a = no_cook::assumptions();
    return {sizeof(ferment_assumptions), in_percent(a.conversion), in_percent(a.fermentation_efficiency), in_percent(a.soluble_share_of_rest)};
}
template <>
ferment_conditions usual() {
    const Inoculum i;
    const Conditions c;
    constexpr double swing = 0.0;
    constexpr double warmest_hour = 15.0;
    return {sizeof(ferment_conditions),
            i.yeast_kg,
            i.enzyme_dose,
            i.nutrients,
            c.mash_c,
            c.ambient.at(0.0),
            swing,
            warmest_hour,
            c.vessel.heat_transfer,
            c.vessel.sunshine_w,
            c.vessel.noon_hour,
            0,
            nullptr,
            nullptr};
}
template <>
ferment_reading usual() {
    constexpr ferment_measured nothing{no_number, 0.0};
    return {sizeof(ferment_reading), 0.0, nothing, nothing, nothing, -1};
}
template <>
ferment_still usual() {
    const StillSetup s;
    return {sizeof(ferment_still),       s.boiler_l,          percent * s.head_space_share, s.heating_kw,
            percent * s.heat_loss_share, s.heat_loss_w_per_k, s.still_heat_kj_per_k,        s.pressure_kpa};
}
template <>
ferment_run usual() {
    const RunConditions c;
    return {sizeof(ferment_run),
            percent * usual_plan::stripping_end_abv,
            c.start_c,
            c.ambient_c,
            c.distillate_c,
            c.water_in_c,
            c.water_out_c,
            FERMENT_END_DISTILLATE_ABV,
            usual_plan::curve_points};
}
template <>
ferment_plan_request usual() {
    const PlanRequest r;
    ferment_plan_request c{};
    c.size = sizeof(ferment_plan_request);
    c.dissolved_by_products = in_percent(r.dissolved_by_products);
    c.absorption = {r.handling.absorption.value, r.handling.absorption.standard_uncertainty};
    c.mash_head_space = percent * r.handling.head_space_share;
    c.plates = r.spirit.plates;
    c.take_off_by = FERMENT_AT_REFLUX;
    c.take_off = r.spirit.take_off.reflux;
    c.end_distillate_abv = percent * r.spirit.stop.distillate_abv;
    c.end_pot_abv = c.end_collected_l = c.end_recovered = c.end_take_off_l_per_h = no_number;
    c.strongest_charge_abv = percent * r.spirit.strongest_charge_abv;
    c.dilution_water_c = r.spirit.dilution_water_c;
    c.spirit_start_c = r.spirit.start_c;
    c.fore_shots_by = FERMENT_CUT_ALCOHOL_SHARE;
    c.fore_shots_end = percent * r.cuts.fore_shots_end.value;
    c.heads_by = FERMENT_CUT_ALCOHOL_SHARE;
    c.heads_end = percent * r.cuts.heads_end.value;
    c.hearts_by = FERMENT_CUT_DISTILLATE_ABV;
    c.hearts_end = percent * r.cuts.hearts_end.value;
    c.recycled_into = FERMENT_INTO_LOW_WINES;
    c.target_abv = percent * r.bottling.target_abv;
    c.bottle_l = r.bottling.bottle_l;
    c.bottling_water_c = r.bottling.water_c;
    c.fill_c = r.bottling.fill_c;
    c.turnaround_h = r.turnaround_h;
    return c;
}

}  // namespace ferment_c

enum ferment_status ferment_hydrometer_init(ferment_hydrometer* const hydrometer, const size_t size) {
    return init(hydrometer, size, "hydrometer");
}
enum ferment_status ferment_refractometer_init(ferment_refractometer* const refractometer, const size_t size) {
    return init(refractometer, size, "refractometer");
}
enum ferment_status ferment_assumptions_init(ferment_assumptions* const assumptions, const size_t size) {
    return init(assumptions, size, "assumptions");
}
enum ferment_status ferment_conditions_init(ferment_conditions* const conditions, const size_t size) {
    return init(conditions, size, "conditions");
}
enum ferment_status ferment_reading_init(ferment_reading* const reading, const size_t size) {
    return init(reading, size, "reading");
}
enum ferment_status ferment_still_init(ferment_still* const still, const size_t size) {
    return init(still, size, "still");
}
enum ferment_status ferment_run_init(ferment_run* const run, const size_t size) {
    return init(run, size, "run");
}
enum ferment_status ferment_plan_request_init(ferment_plan_request* const request, const size_t size) {
    return init(request, size, "request");
}

// ---- errors, versions, cautions ----

const char* ferment_last_error(void) {
    return last_message;
}
const char* ferment_version(void) {
    return FERMENT_VERSION;
}
int ferment_interface_version(void) {
    return FERMENT_INTERFACE_VERSION;
}
const char* ferment_cautions(void) {
    return text_of(still_cautions);
}

// ---- numbers in, one number out ----

// Each line defines the function and its twin for arrays. With options, the setup checks them once and the formula uses what it makes of them.
// NOLINTBEGIN(bugprone-macro-parentheses): arguments are declared names and whole expressions
#define DEFINE_1(f, a, formula)                                                                                                          \
    enum ferment_status f(const double x1, double* const r) {                                                                            \
        return one(                                                                                                                      \
            r, [] { return [](const double a) { return formula; }; }, x1);                                                               \
    }                                                                                                                                    \
    enum ferment_status f##_array(const size_t n, const double* const x1, const int outside, double* const r, size_t* const first_bad) { \
        return each(                                                                                                                     \
            n, outside, r, first_bad, [] { return [](const double a) { return formula; }; }, x1);                                        \
    }
#define DEFINE_2(f, a, b, formula)                                                                                                    \
    enum ferment_status f(const double x1, const double x2, double* const r) {                                                        \
        return one(                                                                                                                   \
            r, [] { return [](const double a, const double b) { return formula; }; }, x1, x2);                                        \
    }                                                                                                                                 \
    enum ferment_status f##_array(const size_t n, const double* const x1, const double* const x2, const int outside, double* const r, \
                                  size_t* const first_bad) {                                                                          \
        return each(                                                                                                                  \
            n, outside, r, first_bad, [] { return [](const double a, const double b) { return formula; }; }, x1, x2);                 \
    }
#define DEFINE_3(f, a, b, c, formula)                                                                                                                         \
    enum ferment_status f(const double x1, const double x2, const double x3, double* const r) {                                                               \
        return one(                                                                                                                                           \
            r, [] { return [](const double a, const double b, const double c) { return formula; }; }, x1, x2, x3);                                            \
    }                                                                                                                                                         \
    enum ferment_status f##_array(const size_t n, const double* const x1, const double* const x2, const double* const x3, const int outside, double* const r, \
                                  size_t* const first_bad) {                                                                                                  \
        return each(                                                                                                                                          \
            n, outside, r, first_bad, [] { return [](const double a, const double b, const double c) { return formula; }; }, x1, x2, x3);                     \
    }
#define DEFINE_1_WITH_1(f, a, option, setup, formula)                                                                                                      \
    enum ferment_status f(const double x1, const int option, double* const r) {                                                                            \
        return one(                                                                                                                                        \
            r, [=] { return [set = setup](const double a) { return formula; }; }, x1);                                                                     \
    }                                                                                                                                                      \
    enum ferment_status f##_array(const size_t n, const double* const x1, const int option, const int outside, double* const r, size_t* const first_bad) { \
        return each(                                                                                                                                       \
            n, outside, r, first_bad, [=] { return [set = setup](const double a) { return formula; }; }, x1);                                              \
    }
#define DEFINE_1_WITH_2(f, a, option, option_2, setup, formula)                                                                                     \
    enum ferment_status f(const double x1, const int option, const int option_2, double* const r) {                                                 \
        return one(                                                                                                                                 \
            r, [=] { return [set = setup](const double a) { return formula; }; }, x1);                                                              \
    }                                                                                                                                               \
    enum ferment_status f##_array(const size_t n, const double* const x1, const int option, const int option_2, const int outside, double* const r, \
                                  size_t* const first_bad) {                                                                                        \
        return each(                                                                                                                                \
            n, outside, r, first_bad, [=] { return [set = setup](const double a) { return formula; }; }, x1);                                       \
    }
#define DEFINE_2_WITH_1(f, a, b, option, setup, formula)                                                                                                \
    enum ferment_status f(const double x1, const double x2, const int option, double* const r) {                                                        \
        return one(                                                                                                                                     \
            r, [=] { return [set = setup](const double a, const double b) { return formula; }; }, x1, x2);                                              \
    }                                                                                                                                                   \
    enum ferment_status f##_array(const size_t n, const double* const x1, const double* const x2, const int option, const int outside, double* const r, \
                                  size_t* const first_bad) {                                                                                            \
        return each(                                                                                                                                    \
            n, outside, r, first_bad, [=] { return [set = setup](const double a, const double b) { return formula; }; }, x1, x2);                       \
    }
#define DEFINE_2_WITH_2(f, a, b, option, option_2, setup, formula)                                                                                         \
    enum ferment_status f(const double x1, const double x2, const int option, const int option_2, double* const r) {                                       \
        return one(                                                                                                                                        \
            r, [=] { return [set = setup](const double a, const double b) { return formula; }; }, x1, x2);                                                 \
    }                                                                                                                                                      \
    enum ferment_status f##_array(const size_t n, const double* const x1, const double* const x2, const int option, const int option_2, const int outside, \
                                  double* const r, size_t* const first_bad) {                                                                              \
        return each(                                                                                                                                       \
            n, outside, r, first_bad, [=] { return [set = setup](const double a, const double b) { return formula; }; }, x1, x2);                          \
    }

DEFINE_1(ferment_water_density, t, water_density(degrees(t)).value())
DEFINE_2(ferment_sucrose_density, w, t, sucrose_density(w* degree_plato, degrees(t)).value())
DEFINE_2(ferment_extract_from_density, rho, t, value_in(extract_from_density(rho* kilogram_per_cubic_metre, degrees(t)), degree_plato))
DEFINE_1(ferment_glucose_density, w, glucose_density(w* degree_plato).value())
DEFINE_1(ferment_glucose_from_density, rho, value_in(glucose_from_density(rho* kilogram_per_cubic_metre), degree_plato))
DEFINE_2(ferment_extract_per_litre, w, t, value_in(extract_per_litre(w* degree_plato, degrees(t)), gram_per_litre))
DEFINE_2(ferment_extract_from_per_litre, c, t, value_in(extract_from_per_litre(c* gram_per_litre, degrees(t)), degree_plato))

DEFINE_1_WITH_2(ferment_plato_from_sg, sg, reference, in_air, reference_frame(reference, in_air), percent* ferment::detail::extract_from_gravity(sg, set))
DEFINE_1_WITH_2(ferment_sg_from_plato, p, reference, in_air, reference_frame(reference, in_air), ferment::detail::gravity_from_extract(p / percent, set))
DEFINE_1_WITH_2(ferment_sg_from_density, rho, reference, in_air, reference_frame(reference, in_air), ferment::detail::gravity_from_density(rho, set))
DEFINE_1_WITH_2(ferment_density_from_sg, sg, reference, in_air, reference_frame(reference, in_air), ferment::detail::density_from_gravity(sg, set))
DEFINE_1(ferment_density_in_air, rho, density_in_air(rho* kilogram_per_cubic_metre).value())
DEFINE_1(ferment_density_in_vacuum, rho, density_in_vacuum(rho* kilogram_per_cubic_metre).value())
DEFINE_1(ferment_points_from_sg, sg, points_from_sg(sg* sg_20_20))
DEFINE_1(ferment_sg_from_points, p, sg_from_points(p).value())

DEFINE_2(ferment_spirit_density, p, t, spirit_density(p* percent_mass, degrees(t)).value())
DEFINE_2(ferment_abw_from_density, rho, t, value_in(abw_from_density(rho* kilogram_per_cubic_metre, degrees(t)), percent_mass))
DEFINE_2(ferment_abv_from_density, rho, t, value_in(abv_from_density(rho* kilogram_per_cubic_metre, degrees(t)), percent_vol))
DEFINE_1(ferment_abv_from_abw, p, value_in(abv_from_abw(p* percent_mass), percent_vol))
DEFINE_1(ferment_abw_from_abv, q, value_in(abw_from_abv(q* percent_vol), percent_mass))
DEFINE_1(ferment_us_proof_from_abv, q, us_proof_from_abv(q* percent_vol).value())
DEFINE_1(ferment_abv_from_us_proof, s, value_in(abv_from_us_proof(s* us_proof_degree), percent_vol))
DEFINE_1(ferment_us_proof_from_abw, p, us_proof_from_abw(p* percent_mass).value())
DEFINE_1(ferment_abw_from_us_proof, s, value_in(abw_from_us_proof(s* us_proof_degree), percent_mass))
DEFINE_2(ferment_apparent_abv, q, c, value_in(apparent_strength(q* percent_vol, c), percent_vol))
DEFINE_2(ferment_abv_of_sweetened, q, c, value_in(strength_of_sweetened(q* percent_vol, c), percent_vol))

DEFINE_3(ferment_wash_density, e, x, t, wash_density(e* percent_mass, x* degree_plato, degrees(t)).value())
DEFINE_2(ferment_wash_gravity, e, x, wash_gravity(e* percent_mass, x* degree_plato).value())
DEFINE_2(ferment_wash_abv, e, x, value_in(wash_abv(e* percent_mass, x* degree_plato), percent_vol))
DEFINE_2(ferment_wash_abw, q, x, value_in(wash_abw(q* percent_vol, x* degree_plato), percent_mass))
DEFINE_3(ferment_wash_extract, rho, e, t, value_in(wash_extract(rho* kilogram_per_cubic_metre, e* percent_mass, degrees(t)), degree_plato))
DEFINE_3(ferment_wash_abw_from_density, rho, x, t, value_in(wash_abw_from_density(rho* kilogram_per_cubic_metre, x* degree_plato, degrees(t)), percent_mass))

DEFINE_3(ferment_boiling_point, e, p, x, bubble_point(e* percent_mass, x* degree_plato, p* kilopascal).temperature.value())
DEFINE_3(ferment_vapour_abw, e, p, x, value_in(bubble_point(e* percent_mass, x* degree_plato, p* kilopascal).vapour, percent_mass))
DEFINE_3(ferment_relative_volatility, e, p, x, bubble_point(e* percent_mass, x* degree_plato, p* kilopascal).relative_volatility)
DEFINE_2(ferment_dew_point, v, p, dew_point(v* percent_mass, p* kilopascal).temperature.value())
DEFINE_2(ferment_abw_from_vapour_abw, v, p, value_in(dew_point(v* percent_mass, p* kilopascal).liquid, percent_mass))
DEFINE_1(ferment_azeotrope_c, p, azeotrope(p* kilopascal).temperature.value())
DEFINE_1(ferment_azeotrope_abw, p, value_in(azeotrope(p* kilopascal).strength, percent_mass))
DEFINE_1(ferment_ethanol_vapour_pressure, t, value_in(ethanol_vapour_pressure(degrees(t)), kilopascal))
DEFINE_1(ferment_water_vapour_pressure, t, value_in(water_vapour_pressure(degrees(t)), kilopascal))
DEFINE_1(ferment_pressure_at_altitude, h, value_in(pressure_at_altitude(h* metre), kilopascal))
DEFINE_1(ferment_altitude_of_pressure, p, altitude_of_pressure(p* kilopascal).value())
DEFINE_2(ferment_station_pressure, p, h, value_in(station_pressure(p* kilopascal, h* metre), kilopascal))
DEFINE_1(ferment_mole_percent_from_abw, e, value_in(mole_fraction_from_abw(e* percent_mass), percent_mole))
DEFINE_1(ferment_abw_from_mole_percent, z, value_in(abw_from_mole_fraction(z* percent_mole), percent_mass))

DEFINE_1(ferment_water_refractive_index, t, water_refractive_index(degrees(t)))
DEFINE_2(ferment_sucrose_refractive_index, w, t, sucrose_refractive_index(w* degree_plato, degrees(t)))
DEFINE_2(ferment_brix_from_refractive_index, n_d, t, value_in(brix_from_refractive_index(n_d, degrees(t)), degree_plato))
DEFINE_1(ferment_glucose_refractive_index, w, glucose_refractive_index(w* degree_plato))
DEFINE_1(ferment_glucose_from_refractive_index, n_d, value_in(glucose_from_refractive_index(n_d), degree_plato))
DEFINE_2(ferment_hydrolysate_refractive_index, w, t, hydrolysate_refractive_index(w* degree_plato, degrees(t)))
DEFINE_2(ferment_hydrolysate_from_refractive_index, n_d, t, value_in(hydrolysate_from_refractive_index(n_d, degrees(t)), degree_plato))
DEFINE_1(ferment_hydrolysate_from_brix, w, value_in(hydrolysate_from_brix(w* degree_plato), degree_plato))
DEFINE_2(ferment_spirit_refractive_index, e, t, spirit_refractive_index(e* percent_mass, degrees(t)))
DEFINE_2(ferment_abw_from_refractive_index, n_d, t, value_in(abw_from_refractive_index(n_d, degrees(t)), percent_mass))
DEFINE_3(ferment_wash_refractive_index, e, x, t, wash_refractive_index(e* percent_mass, x* degree_plato, degrees(t)))
DEFINE_3(ferment_wash_extract_from_refractive_index, n_d, e, t, value_in(wash_extract_from_refractive_index(n_d, e* percent_mass, degrees(t)), degree_plato))
DEFINE_3(ferment_wash_abw_from_refractive_index, n_d, x, t, value_in(wash_abw_from_refractive_index(n_d, x* degree_plato, degrees(t)), percent_mass))

DEFINE_2(ferment_ventilation_m3_per_h, gas, limit, ventilation_m3_per_h(gas, limit))

DEFINE_3(ferment_alcoholometer_abv, q, t, expansion, value_in(Alcoholometer(expansion).correct(q* percent_vol, degrees(t)), percent_vol))
DEFINE_3(ferment_alcoholometer_us_proof, s, t, expansion, Alcoholometer(expansion).correct(s* us_proof_degree, degrees(t)).value())
DEFINE_3(ferment_alcoholometer_reads_abv, q, t, expansion, value_in(Alcoholometer(expansion).reads(q* percent_vol, degrees(t)), percent_vol))
DEFINE_3(ferment_alcoholometer_reads_us_proof, s, t, expansion, Alcoholometer(expansion).reads(s* us_proof_degree, degrees(t)).value())
DEFINE_2_WITH_2(ferment_abv_from_gravity, og, fg, method, reference, std::pair(method_of(method), reference_frame(reference, 0)),
                percent* ferment::detail::abv_from_gravity(og, fg, set.first, set.second))
DEFINE_2_WITH_1(ferment_original_gravity_from_abv, q, fg, reference, reference_frame(reference, 0),
                ferment::detail::original_gravity_from_abv_fg(q / percent, fg, default_yield, set))
DEFINE_1_WITH_1(ferment_least_final_gravity, og, reference, reference_frame(reference, 0), ferment::detail::least_final_gravity(og, default_yield, set))
DEFINE_1_WITH_1(ferment_apparent_extract, sg, reference, reference_frame(reference, 0), percent* ferment::detail::apparent_extract(sg, set))
// NOLINTEND(bugprone-macro-parentheses)

// ---- instruments ----

enum ferment_status ferment_hydrometer_correct(const ferment_hydrometer* const hydrometer, const double reading, const double temperature_c, const int sample,
                                               const double known, ferment_hydrometer_reading* const corrected) {
    return guarded([&] {
        require_result(corrected, "corrected");
        const Hydrometer glass = hydrometer_of(hydrometer);
        const auto kind = choice<enum ferment_sample>(sample, FERMENT_WASH_OF_EXTRACT + 1, "sample");
        const bool is_wash = kind == FERMENT_WASH_OF_ABV || kind == FERMENT_WASH_OF_EXTRACT;
        if (any_nan(reading, temperature_c) || (is_wash && any_nan(known))) {
            give(corrected, {0, no_number, no_number, no_number, no_number, no_number});
            return;
        }
        const celsius<> t = degrees(temperature_c);
        const CorrectedReading r = is_wash                  ? glass.correct(reading, t, wash_known(kind, known))
                                   : kind == FERMENT_SPIRIT ? glass.correct(reading, t, SampleSpirit{})
                                                            : glass.correct(reading, t, SampleWort{});
        give(corrected, {0, r.gravity.value(), r.at_sample.value(), value_in(r.strength, percent_mass),
                         value_in(wash_abv(r.strength, r.real_extract), percent_vol), value_in(r.real_extract, degree_plato)});
    });
}

enum ferment_status ferment_hydrometer_reads(const ferment_hydrometer* const hydrometer, const double abw, const double extract, const double temperature_c,
                                             double* const reading) {
    return one(
        reading,
        [&] {
            return [glass = hydrometer_of(hydrometer)](const double e, const double x, const double t) {
                return glass.reads(e * percent_mass, x * degree_plato, degrees(t));
            };
        },
        abw, extract, temperature_c);
}

enum ferment_status ferment_refractometer_correct_wort(const ferment_refractometer* const refractometer, const double reading, const double temperature_c,
                                                       const int sugar, ferment_refracted_wort* const corrected) {
    return guarded([&] {
        require_result(corrected, "corrected");
        const Refractometer glass = refractometer_of(refractometer);
        const auto kind = choice<refractometer_sugar>(sugar, FERMENT_STARCH_HYDROLYSATE + 1, "sugar");
        if (any_nan(reading, temperature_c)) {
            give(corrected, {0, no_number, no_number, no_number, no_number});
            return;
        }
        const CorrectedRefraction r = glass.correct(reading, degrees(temperature_c), kind);
        give(corrected, {0, value_in(r.brix, degree_plato), value_in(r.dry_matter, degree_plato), r.refractive_index, r.at_sample});
    });
}

enum ferment_status ferment_refractometer_correct_wash(const ferment_refractometer* const refractometer, const double reading, const double temperature_c,
                                                       const int sample, const double known, ferment_refracted_wash* const corrected) {
    return guarded([&] {
        require_result(corrected, "corrected");
        const Refractometer glass = refractometer_of(refractometer);
        const auto kind = choice<enum ferment_sample>(sample, FERMENT_WASH_OF_EXTRACT + 1, "sample");
        if (kind != FERMENT_WASH_OF_ABV && kind != FERMENT_WASH_OF_EXTRACT) {
            throw InputError("sample must be a wash of known strength or extract: a refractometer sees ethanol and extract together");
        }
        if (any_nan(reading, temperature_c, known)) {
            give(corrected, {0, no_number, no_number, no_number, no_number});
            return;
        }
        const RefractedWash r = glass.correct(reading, degrees(temperature_c), wash_known(kind, known));
        give(corrected, {0, value_in(r.strength, percent_mass), value_in(wash_abv(r.strength, r.real_extract), percent_vol),
                         value_in(r.real_extract, degree_plato), r.at_sample});
    });
}

enum ferment_status ferment_refractometer_reads(const ferment_refractometer* const refractometer, const double abw, const double extract,
                                                const double temperature_c, double* const reading) {
    return one(
        reading,
        [&] {
            return [glass = refractometer_of(refractometer)](const double e, const double x, const double t) {
                return glass.reads(e * percent_mass, x * degree_plato, degrees(t));
            };
        },
        abw, extract, temperature_c);
}

// ---- strength of a wash ----

enum ferment_status ferment_gravity_balance(const double original_gravity, const double final_gravity, const int reference,
                                            ferment_fermented_wash* const wash) {
    return guarded([&] {
        require_result(wash, "wash");
        const gravity_frame frame = reference_frame(reference, 0);
        if (any_nan(original_gravity, final_gravity)) {
            give(wash, {0, no_number, no_number, no_number, no_number, no_number, no_number, no_number, no_number, no_number, no_number, no_number, no_number});
            return;
        }
        const FermentedWash r = ferment::detail::gravity_balance(original_gravity, final_gravity, default_yield, frame);
        give(wash, {0, value_in(r.strength, percent_vol), value_in(r.strength_by_mass, percent_mass), value_in(r.original_extract, degree_plato),
                    value_in(r.real_extract, degree_plato), value_in(r.apparent_extract, degree_plato), percent * r.apparent_attenuation,
                    percent * r.real_attenuation, percent * r.degree_of_fermentation, r.extract_consumed, r.carbon_dioxide, r.yeast, r.liquid});
    });
}

namespace {

template <class Index>
enum ferment_status found_by_two(const double sg, const double sg_uncertainty, ferment_found_strength* const found, const Index& index) noexcept {
    return guarded([&] {
        require_result(found, "found");
        const FoundStrength f = strength_from_hydrometer_and_refractometer(Uncertain::input(sg, sg_uncertainty, "gravity"), index());
        give(found, {0, in_percent(f.abv), in_percent(f.abw), in_percent(f.real_extract)});
    });
}

}  // namespace

enum ferment_status ferment_abv_from_hydrometer_and_brix(const double sg, const double sg_uncertainty, const double brix, const double brix_uncertainty,
                                                         ferment_found_strength* const found) {
    return found_by_two(sg, sg_uncertainty, found, [&] {
        require_inside("brix", brix, "degBx", {0.0, percent * sucrose_refraction::extract_range.upper}, sucrose_refraction::from);
        const Uncertain shown = Uncertain::input(brix, brix_uncertainty, "brix");
        return sucrose_refraction::index(shown / percent, Uncertain(sucrose_refraction::reference_c));
    });
}

enum ferment_status ferment_abv_from_hydrometer_and_refractometer(const double sg, const double sg_uncertainty, const double refractive_index,
                                                                  const double refractive_index_uncertainty, ferment_found_strength* const found) {
    return found_by_two(sg, sg_uncertainty, found, [&] { return Uncertain::input(refractive_index, refractive_index_uncertainty, "refractive index"); });
}

// ---- proofing ----

enum ferment_status ferment_dilute(const double abv, const double volume_l, const double target_abv, const double temperature_c,
                                   const double water_temperature_c, ferment_dilution* const dilution) {
    return guarded([&] {
        require_result(dilution, "dilution");
        give_dilution(dilution, dilute(weighed(abv, volume_l, temperature_c), abw_from_abv(target_abv * percent_vol), degrees(water_temperature_c)),
                      temperature_c);
    });
}

enum ferment_status ferment_add_water(const double abv, const double volume_l, const double water_kg, const double temperature_c,
                                      const double water_temperature_c, ferment_dilution* const dilution) {
    return guarded([&] {
        require_result(dilution, "dilution");
        give_dilution(dilution, add_water(weighed(abv, volume_l, temperature_c), water_kg * kilogram, degrees(water_temperature_c)), temperature_c);
    });
}

enum ferment_status ferment_dilute_to_volume(const double abv, const double target_abv, const double target_volume_l, const double water_temperature_c,
                                             ferment_dilution* const dilution) {
    return guarded([&] {
        require_result(dilution, "dilution");
        const Dilution d =
            dilute_to_volume(abw_from_abv(abv * percent_vol), abw_from_abv(target_abv * percent_vol), target_volume_l * litre, degrees(water_temperature_c));
        give_dilution(dilution, d, reference_20c::t);
    });
}

enum ferment_status ferment_blend(const size_t n, const double* const abv, const double* const volume_l, const double* const temperature_c,
                                  const double result_temperature_c, ferment_blended* const blend) {
    return guarded([&] {
        require_result(blend, "blend");
        std::vector<SpiritMass> parts;
        if (n != 0) {
            require_pointer(abv, "abv");
            require_pointer(volume_l, "volume_l");
            require_pointer(temperature_c, "temperature_c");
        }
        parts.reserve(n);
        for (std::size_t i = 0; i < n; ++i) parts.push_back(weighed(abv[i], volume_l[i], temperature_c[i]));
        const SpiritMass sum = ferment::blend(parts);
        give(blend, {0, spirit_of(sum, result_temperature_c), value_in(contraction(parts), litre)});
    });
}

enum ferment_status ferment_bottles(const double abv, const double volume_l, const double bottle_l, const double temperature_c,
                                    const double filling_temperature_c, ferment_bottling* const bottling) {
    return guarded([&] {
        require_result(bottling, "bottling");
        const Bottling b = bottles(weighed(abv, volume_l, temperature_c), bottle_l * litre, degrees(filling_temperature_c));
        give(bottling, {0, b.full, value_in(b.fill_volume, litre), value_in(b.volume_at_fill, litre), value_in(b.rest_at_20c, litre)});
    });
}

// ---- grain ----

enum ferment_status ferment_bill_create(ferment_bill** const bill) {
    return create(bill, "bill", [] { return Bill(); });
}
enum ferment_status ferment_bill_add(ferment_bill* const bill, const char* const name, const double kg) {
    return guarded([&] {
        require_pointer(bill, "bill");
        require_pointer(name, "name of the grain");
        bill->bill.add(grain(name), kg * kilogram);
    });
}
enum ferment_status ferment_bill_grain_kg(const ferment_bill* const bill, double* const kg) {
    return guarded([&] {
        require_pointer(kg, "kg");
        *kg = bill_of(bill).total().value();
    });
}
void ferment_bill_destroy(ferment_bill* const bill) {
    delete bill;
}

enum ferment_status ferment_grain_count(size_t* const count) {
    return guarded([&] {
        require_pointer(count, "count");
        *count = ferment::detail::grain_rows.size();
    });
}
enum ferment_status ferment_grain_name(const size_t index, const char** const name) {
    return guarded([&] {
        require_pointer(name, "name");
        const auto& rows = ferment::detail::grain_rows;
        if (index >= rows.size()) {
            throw RangeError("grain " + std::to_string(index) + " is outside 0 to " + std::to_string(rows.size() - 1));
        }
        *name = text_of(rows[index].name);
    });
}

enum ferment_status ferment_potential(const ferment_bill* const bill, const double water_kg, const ferment_assumptions* const assumptions, const int at,
                                      ferment_yield* const yield) {
    return guarded([&] {
        require_result(yield, "yield");
        const auto which = choice<enum ferment_yield_at>(at, FERMENT_EXPECTED + 1, "yield");
        const Potential p = potential(bill_of(bill), water_kg * kilogram, assumptions_of(assumptions));
        const Yield& y = which == FERMENT_THEORETICAL ? p.theoretical : p.expected;
        give(yield,
             {0, in_percent(y.conversion), in_percent(y.fermentation_efficiency), doubted(y.starch_converted_kg), doubted(y.extract_kg), in_percent(y.extract),
              doubted(y.original_gravity), doubted(y.ethanol_kg), doubted(y.pure_alcohol_l), doubted(y.co2_kg), doubted(y.by_products_kg),
              doubted(y.bill.litre_degrees_per_kg), doubted(y.bill.points_per_pound_per_gallon), doubted(y.bill.pure_alcohol_l_per_tonne)});
    });
}

// ---- fermentation ----

enum ferment_status ferment_end_point(const ferment_bill* const bill, const double water_kg, const ferment_assumptions* const assumptions,
                                      ferment_finished_wash* const end) {
    return guarded([&] {
        require_result(end, "end");
        const EndPoint e = end_point(potential(bill_of(bill), water_kg * kilogram, assumptions_of(assumptions)));
        give(end, {0, in_percent(e.conversion), doubted(e.ethanol_kg), doubted(e.pure_alcohol_l), doubted(e.co2_kg), doubted(e.starch_left_kg),
                   doubted(e.wash_kg), doubted(e.wash_volume_l), in_percent(e.abw), in_percent(e.abv), in_percent(e.real_extract), doubted(e.gravity)});
    });
}

enum ferment_status ferment_fermentation_create(const ferment_bill* const bill, const double water_kg, const ferment_assumptions* const assumptions,
                                                const ferment_conditions* const conditions, ferment_fermentation** const fermentation) {
    return create(fermentation, "fermentation", [&] {
        const Bill& grist = bill_of(bill);
        const ferment_conditions c = taken(conditions, "conditions");
        return Fermentation::of(grist, potential(grist, water_kg * kilogram, assumptions_of(assumptions)), {c.yeast_kg, c.enzyme_dose, c.nutrients},
                                conditions_of(c));
    });
}
void ferment_fermentation_destroy(ferment_fermentation* const fermentation) {
    delete fermentation;
}

enum ferment_status ferment_forecast_create(const ferment_fermentation* const fermentation, const size_t n, const double* const times_h,
                                            const size_t n_readings, const ferment_reading* const readings, const size_t members, const uint64_t seed,
                                            ferment_forecast** const forecast) {
    return create(forecast, "forecast", [&] {
        require_pointer(fermentation, "fermentation");
        require_pointer(times_h, "times_h");
        const std::vector<double> hours(times_h, times_h + n);
        const std::vector<Reading> read = readings_of(n_readings, readings);
        return read.empty() ? ferment::forecast(fermentation->fermentation, hours, {}, members, seed)
                            : forecast_with_readings(fermentation->fermentation, hours, read, members, seed);
    });
}
void ferment_forecast_destroy(ferment_forecast* const forecast) {
    delete forecast;
}

enum ferment_status ferment_forecast_quantiles(const ferment_forecast* const forecast, const int quantity, const size_t count, double* const values) {
    return guarded([&] {
        require_pointer(forecast, "forecast");
        require_pointer(values, "values");
        const Forecast& f = forecast->forecast;
        // In the order of ferment_forecast_quantity.
        const std::array<std::pair<const Band*, double>, FERMENT_CO2_L_PER_H + 1> bands{
            {{&f.gravity, 1.0}, {&f.abv, percent}, {&f.temperature, 1.0}, {&f.conversion, percent}, {&f.co2_lost, 1.0}, {&f.co2_rate, 1.0}}};
        const auto [band, scale] = bands[choice<std::size_t>(quantity, static_cast<int>(bands.size()), "quantity of a forecast")];
        if (count != band->size() * FERMENT_QUANTILES) {
            throw InputError("count " + std::to_string(count) + " must be " + std::to_string(band->size() * FERMENT_QUANTILES) +
                             ": FERMENT_QUANTILES for each hour of the forecast");
        }
        double* to = values;
        for (const Spread& spread : *band) {
            copy_spread(to, spread, scale);
            to += FERMENT_QUANTILES;
        }
    });
}

enum ferment_status ferment_forecast_done_h(const ferment_forecast* const forecast, double* const hours) {
    return guarded([&] {
        require_pointer(forecast, "forecast");
        require_pointer(hours, "hours");
        copy_spread(hours, forecast->forecast.done());
    });
}

enum ferment_status ferment_forecast_done_by(const ferment_forecast* const forecast, const double hour, double* const share) {
    return guarded([&] {
        require_pointer(forecast, "forecast");
        require_pointer(share, "share");
        *share = percent * forecast->forecast.done_by(hour);
    });
}

enum ferment_status ferment_standing_text(const int standing, const char** const text) {
    return guarded([&] {
        require_pointer(text, "text");
        *text = text_of(to_string(choice<ferment::standing>(standing, standing_count, "standing")));
    });
}
enum ferment_status ferment_cause_text(const int cause, const char** const text) {
    return guarded([&] {
        require_pointer(text, "text");
        *text = text_of(to_string(choice<ferment::cause>(cause, cause_count, "cause")));
    });
}

enum ferment_status ferment_check_create(const ferment_fermentation* const fermentation, const size_t n_readings, const ferment_reading* const readings,
                                         const size_t members, const uint64_t seed, ferment_check** const check) {
    return create(check, "check", [&] {
        require_pointer(fermentation, "fermentation");
        return ferment::check(fermentation->fermentation, readings_of(n_readings, readings), members, seed);
    });
}
void ferment_check_destroy(ferment_check* const check) {
    delete check;
}

enum ferment_status ferment_check_get(const ferment_check* const check, ferment_check_summary* const summary) {
    return guarded([&] {
        require_pointer(check, "check");
        require_result(summary, "summary");
        const Check& c = check->check;
        ferment_check_summary s{};
        s.time_h = c.time_h;
        s.stands = static_cast<std::int64_t>(c.stands);
        s.because = static_cast<std::int64_t>(c.because);
        copy_spread(s.conversion, c.conversion, percent);
        copy_spread(s.abv, c.abv, percent);
        copy_spread(s.gravity, c.gravity);
        copy_spread(s.days_to_finish, c.days_to_finish);
        copy_spread(s.end_gravity, c.end_gravity);
        copy_spread(s.end_abv, c.end_abv, percent);
        s.look_again_h = c.look_again_h;
        const auto expected = [&](const std::string_view what, double* const range, double& z) {
            const auto found = std::find_if(c.expected.begin(), c.expected.end(), [what](const Expected& e) { return e.what == what; });
            const bool measured_at_all = found != c.expected.end();
            Spread none{};
            none.fill(no_number);
            copy_spread(range, measured_at_all ? found->range : none);
            z = measured_at_all ? found->z : no_number;
        };
        expected("gravity", s.expected_gravity, s.gravity_z);
        expected("temperature", s.expected_temperature_c, s.temperature_z);
        expected("co2_lost", s.expected_co2_lost_kg, s.co2_lost_z);
        give(summary, s);
    });
}

enum ferment_status ferment_check_standing_probability(const ferment_check* const check, const int standing, double* const probability) {
    return guarded([&] {
        require_pointer(check, "check");
        require_pointer(probability, "probability");
        *probability = check->check.probability[choice<std::size_t>(standing, standing_count, "standing")];
    });
}
enum ferment_status ferment_check_cause_probability(const ferment_check* const check, const int cause, double* const probability) {
    return guarded([&] {
        require_pointer(check, "check");
        require_pointer(probability, "probability");
        *probability = check->check.cause_probability[choice<std::size_t>(cause, cause_count, "cause")];
    });
}

enum ferment_status ferment_check_says(const ferment_check* const check, const char** const text) {
    return guarded([&] {
        require_pointer(check, "check");
        require_pointer(text, "text");
        *text = check->check.says.c_str();
    });
}
enum ferment_status ferment_check_warning(const ferment_check* const check, const char** const text) {
    return guarded([&] {
        require_pointer(check, "check");
        require_pointer(text, "text");
        *text = check->check.warning.c_str();
    });
}

// ---- still ----

enum ferment_status ferment_charges(const ferment_still* const still, const double wash_l, const double abv, const double extract, const double reserve_l,
                                    const double reserve_abv, ferment_charge_plan* const charges) {
    return guarded([&] {
        require_result(charges, "charges");
        const StillSetup setup = still_of(still, "still");
        const ChargePlan p = plan_charges(still_liquid(wash_l * litre, abv * percent_vol, extract * degree_plato), {reserve_l, reserve_abv / percent}, setup);
        give(charges, {0, p.count, liquid_of(p.charge), liquid_of(p.wash), liquid_of(p.reserve), p.usable_l, percent * p.head_space_share});
    });
}

enum ferment_status ferment_strip(const ferment_still* const still, const double charge_l, const double abv, const double extract, const ferment_run* const run,
                                  ferment_stripping* const stripping) {
    return guarded([&] {
        require_result(stripping, "stripping");
        const StillSetup setup = still_of(still, "still");
        const ferment_run r = taken(run, "run");
        const Stripping s =
            strip(still_liquid(charge_l * litre, abv * percent_vol, extract * degree_plato), setup, end_of(r), static_cast<std::size_t>(points_of(r)));
        StillDuty d;
        if (setup.heating_kw == 0.0) {
            d = {no_number, no_number, no_number, no_number, no_number, no_number, no_number,
                 no_number, no_number, no_number, no_number, no_number, no_number, no_number};
        } else {
            d = stripping_duty(s, setup, conditions_of(r));
        }
        give(stripping, {0,
                         liquid_of(s.charge),
                         liquid_of(s.low_wines),
                         liquid_of(s.pot),
                         percent * s.ethanol_left_share,
                         s.boiling_start_c,
                         s.boiling_end_c,
                         d.heat_up_kwh,
                         d.boil_kwh,
                         d.loss_kwh,
                         d.energy_kwh,
                         d.heat_up_h,
                         d.boil_h,
                         d.total_h,
                         d.condenser_kwh,
                         d.condenser_mean_kw,
                         d.condenser_peak_kw,
                         d.water_l,
                         d.water_l_per_h,
                         d.water_peak_l_per_h,
                         d.low_wines_l_per_h});
    });
}

// ---- from sacks to bottles ----

namespace {

PlanRequest request_of(const Bill& bill, const ferment_assumptions* const assumptions, const ferment_plan_request* const given) {
    const ferment_plan_request c = taken(given, "request");
    const ferment_run run = c.run == nullptr ? usual<ferment_run>() : taken(c.run, "run");
    PlanRequest r;
    r.bill = bill;
    r.water_kg = c.water_kg;
    r.assumptions = assumptions_of(assumptions);
    r.dissolved_by_products = fraction(c.dissolved_by_products);
    r.handling.absorption = {c.absorption.value, c.absorption.standard_uncertainty};
    r.handling.head_space_share = c.mash_head_space / percent;
    r.stripping_still = still_of(c.stripping_still, "stripping_still");
    r.stripping_stop = end_of(run);
    r.conditions = conditions_of(run);
    r.curve_points = points_of(run);
    if (c.spirit_still != nullptr) r.spirit.still = still_of(c.spirit_still, "spirit_still");
    r.spirit.plates = whole(c.plates, "plates", 0, ferment::detail::most_plates);
    r.spirit.packed_height_m = c.packed_height_m;
    r.spirit.hetp_m = c.hetp_m;
    r.spirit.hold_up_kg = c.hold_up_kg;
    r.spirit.equilibration_h = c.equilibration_h;
    r.spirit.take_off = take_off_of(c);
    r.spirit.stop = {c.end_distillate_abv / percent, c.end_pot_abv / percent, c.end_collected_l, c.end_recovered / percent, c.end_take_off_l_per_h};
    r.spirit.strongest_charge_abv = c.strongest_charge_abv / percent;
    r.spirit.dilution_water_c = c.dilution_water_c;
    r.spirit.start_c = c.spirit_start_c;
    r.cuts.fore_shots_end = cut_of(c.fore_shots_by, c.fore_shots_end, "end of fore-shots");
    r.cuts.heads_end = cut_of(c.heads_by, c.heads_end, "end of heads");
    r.cuts.hearts_end = cut_of(c.hearts_by, c.hearts_end, "end of hearts");
    r.recycled = {c.recycled_l, c.recycled_abv / percent, choice<recycle_into>(c.recycled_into, FERMENT_INTO_LOW_WINES + 1, "recycled_into")};
    r.bottling = {c.target_abv / percent, c.bottle_l, c.bottling_water_c, c.fill_c};
    r.turnaround_h = c.turnaround_h;
    return r;
}

}  // namespace

enum ferment_status ferment_plan_create(const ferment_bill* const bill, const ferment_assumptions* const assumptions, const ferment_plan_request* const request,
                                        struct ferment_plan** const plan) {
    return guarded([&] {
        require_pointer(plan, "plan");
        auto made = std::make_unique<struct ferment_plan>();
        made->plan = ferment::plan(request_of(bill_of(bill), assumptions, request));
        made->sheet = made->plan.sheet();
        *plan = made.release();
    });
}
void ferment_plan_destroy(struct ferment_plan* const plan) {
    delete plan;
}

enum ferment_status ferment_plan_get(const struct ferment_plan* const plan, ferment_plan_summary* const summary) {
    return guarded([&] {
        require_pointer(plan, "plan");
        require_result(summary, "summary");
        const Plan& p = plan->plan;
        ferment_plan_summary s{};
        s.wash = liquid_of(p.strained);
        s.in_grain = liquid_of(p.in_grain);
        s.low_wines = liquid_of(p.low_wines);
        s.left = liquid_of(p.left);
        s.wash_gravity = doubted(p.end_point.gravity);
        s.wash_abv = in_percent(p.end_point.abv);
        s.wash_pure_alcohol_l = doubted(p.predicted.wash_pure_alcohol_l);
        s.low_wines_l = doubted(p.predicted.low_wines_l);
        s.low_wines_pure_alcohol_l = doubted(p.predicted.low_wines_pure_alcohol_l);
        s.hearts_l = doubted(p.predicted.hearts_l);
        s.hearts_pure_alcohol_l = doubted(p.predicted.hearts_pure_alcohol_l);
        s.bottled_l = doubted(p.predicted.bottled_l);
        s.bottles_predicted = doubted(p.predicted.bottles);
        s.stripping_charges = p.stripping_charges.count;
        s.spirit_charges = p.spirit_charges.count;
        s.plates = p.plates;
        s.bottles = p.bottling.full;
        s.spirit_water_kg = p.spirit_water_kg;
        s.bottling_water_kg = p.dilution.water.value();
        s.fill_l = value_in(p.bottling.fill_volume, litre);
        s.rest_l = value_in(p.bottling.rest_at_20c, litre);
        s.stripping_kwh = p.stripping_bill.energy_kwh;
        s.spirit_kwh = static_cast<double>(p.spirit_charges.count) * p.spirit_duty.energy_kwh;
        s.energy_kwh = p.totals.energy_kwh;
        s.condenser_kwh = p.totals.condenser_kwh;
        s.water_l = p.totals.water_l;
        s.running_h = p.totals.running_h;
        s.turnaround_h = p.totals.turnaround_h;
        s.total_h = p.totals.total_h;
        s.energy_kwh_per_pure_alcohol_l = p.totals.energy_kwh_per_pure_alcohol_l;
        s.balance_error = p.balance_error();
        give(summary, s);
    });
}

enum ferment_status ferment_plan_fraction(const struct ferment_plan* const plan, const int cut, ferment_fraction* const fraction) {
    return guarded([&] {
        require_pointer(plan, "plan");
        require_result(fraction, "fraction");
        const PlanFraction& f = plan->plan.fraction(choice<cut_label>(cut, FERMENT_TAILS + 1, "cut"));
        give(fraction, {0, liquid_of(f.content), f.from_l, f.to_l, percent * f.from_abv, percent * f.to_abv, percent * f.alcohol_share});
    });
}

enum ferment_status ferment_plan_sheet(const struct ferment_plan* const plan, const char** const text) {
    return guarded([&] {
        require_pointer(plan, "plan");
        require_pointer(text, "text");
        *text = plan->sheet.c_str();
    });
}
