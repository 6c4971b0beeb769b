// Every function of the folders still and batch.

#include <algorithm>
#include <array>
#include <cmath>
#include <ferment/batch.hpp>
#include <ferment/still.hpp>
#include <limits>
#include <stdexcept>
#include <string>

#include "grains.hpp"

namespace fuzz {
namespace {

constexpr Input few_litres{10.0, 150.0};
constexpr Input wash_share{0.04, 0.12};

void give(Results& out, const StillLiquid& l) {
    out << l.mass_kg << l.abw << l.extract << l.volume_l() << l.abv() << l.pure_alcohol_l() << l.ethanol_kg() << l.extract_kg() << l.volatile_kg();
}
void give(Results& out, const Stripping& s) {
    give(out, s.low_wines);
    give(out, s.pot);
    out << s.low_wines_l << s.boiling_start_c << s.boiling_end_c << s.curve.back().vapour_heat_kj << s.ethanol_left_kg;
}
void give(Results& out, const ColumnRun& r) {
    out << r.distillate_kg << r.distillate_ethanol_kg << r.distillate_l << r.distillate_abv << r.residue_kg << r.residue_ethanol_kg << r.recovered_share
        << r.time_h << r.energy_kwh << r.points.back().abv << r.points.back().reflux << r.at_end.head_abw;
}
StillLiquid charge(const double litres, const double strength, const double extract_share) {
    return still_liquid(litres * litre, by_volume(strength), dissolved(extract_share));
}
StillSetup setup(const double* const x) {
    return {x[0], x[1], x[2], x[3], x[4], x[5], x[6]};
}
const std::vector<Input> setup_inputs{{100.0, 300.0}, {0.1, 0.4}, {2.0, 20.0}, {0.0, 0.2}, {0.0, 10.0}, {0.0, 50.0}, {90.0, 105.0}};
StripStop stop_of(const double what, const double value) {
    constexpr double degrees_c = 30.0;
    constexpr double litres = 50.0;
    switch (static_cast<int>(what)) {
        case 1: return StripStop::pot_abv(by_volume(0.05 * value));
        case 2: return StripStop::collected(litres * value * litre);
        case 3: return StripStop::head(degrees(70.0 + degrees_c * value));
        case 4: return StripStop::recovered(value);
        default: return StripStop::distillate_abv(by_volume(value));
    }
}
CutEnd cut(const double what, const double value) {
    switch (static_cast<int>(what)) {
        case 1: return CutEnd::collected(10.0 * value * litre);
        case 2: return CutEnd::distillate(by_volume(value));
        default: return CutEnd::alcohol_share(value);
    }
}
TakeOff take_off(const double mode, const double reflux, const double strength, const double rate) {
    switch (static_cast<int>(mode)) {
        case 1: return TakeOff::at_strength(strength, 10.0 * reflux);
        case 2: return TakeOff::at_rate(rate);
        default: return TakeOff::at_reflux(reflux);
    }
}
std::array<Jar, 3> jars(const double* const x) {
    std::array<Jar, 3> all{};
    for (std::size_t i = 0; i < 3; ++i) {
        all[i].volume_l = x[5 * i];
        all[i].abv = x[5 * i + 1];
        all[i].temperature_c = x[5 * i + 2];
        const double label = x[5 * i + 3];
        all[i].label = cut_labels[static_cast<std::size_t>(label < 0.0 || label > 4.0 ? 4.0 : label)];
        all[i].abv_uncertainty = x[5 * i + 4];
        all[i].relative_volume_uncertainty = x[5 * i + 4];
    }
    return all;
}
std::vector<Input> jar_inputs() {
    std::vector<Input> all;
    for (int i = 0; i < 3; ++i) all = joined(all, {{0.1, 2.0}, {0.2, 0.9}, {5.0, 35.0}, option(5), {0.0, 0.05}});
    return all;
}
void give(Results& out, const CutBlend& b) {
    out << b.mass_kg << b.ethanol_kg << b.volume_20c_l << b.abv;
    fuzz::give(out, b.pure_alcohol_l);
}
/// A pot that loses mass and strength, by shares.
std::array<RunPoint, 3> run_points(const double* const x) {
    return {{{x[0], x[1]}, {x[0] * x[2], x[1] * x[3]}, {x[0] * x[2] * x[4], x[1] * x[3] * x[5]}}};
}
const std::vector<Input> run_inputs{{10.0, 100.0}, {0.2, 0.4}, {0.8, 0.99}, {0.8, 1.0}, {0.5, 0.99}, {0.5, 1.0}};
const Congener& some_congener(const double which) {
    return congeners[static_cast<std::size_t>(which < 0.0 || which > 7.0 ? 0.0 : which)];
}
void give(Results& out, const CongenerRun& run) {
    for (const CongenerCourse& c : run.courses) {
        for (std::size_t i = 0; i < c.pot_g.size(); ++i) out << c.pot_g[i] << c.collected_g[i] << c.grams_per_hl[i];
    }
}
const wash_equilibrium& at_sea_level() {
    static const wash_equilibrium equilibrium(standard_atmosphere::sea_level_pressure);
    return equilibrium;
}
std::vector<Input> plan_inputs() {
    std::vector<Input> all = setup_inputs;
    return joined(all, {{5.0, 40.0}, {50.0, 150.0}, {0.5, 1.0}, {0.0, 0.1}, {0.7, 1.0},  option(5),     {0.02, 0.3},      option(4),  {0.0, 1.0},
                        option(3),   {0.0, 4.0},    {0.6, 0.9}, {0.5, 5.0}, option(3),   {0.001, 0.03}, {0.03, 0.1},      {0.4, 0.7}, {0.0, 5.0},
                        {0.1, 0.4},  option(2),     {0.3, 0.5}, {0.1, 2.0}, {5.0, 30.0}, {0.1, 0.6},    {2.0, 30.0, true}});
}
PlanRequest request(const double* const x) {
    PlanRequest r;
    r.stripping_still = setup(x);
    r.bill.add(grain("wheat"), kg(x[7]));
    r.water_kg = x[8];
    r.assumptions.conversion = {x[9], x[10]};
    r.assumptions.fermentation_efficiency = {x[11], x[10]};
    r.stripping_stop = stop_of(x[12], x[13]);
    r.spirit.plates = static_cast<int>(x[14]);
    r.spirit.hold_up_kg = x[14] > 0.0 ? x[15] : 0.0;
    r.spirit.take_off = take_off(x[16], x[17], x[18], x[19]);
    r.cuts.fore_shots_end = cut(x[20], x[21]);
    r.cuts.heads_end = cut(x[20], x[22]);
    r.cuts.hearts_end = CutEnd::distillate(by_volume(x[23]));
    r.recycled = {x[24], x[25], x[26] == 0.0 ? recycle_into::wash : recycle_into::low_wines};
    r.bottling.target_abv = x[27];
    r.bottling.bottle_l = x[28];
    r.bottling.water_c = x[29];
    r.spirit.strongest_charge_abv = x[30];
    r.curve_points = static_cast<int>(x[31]);
    return r;
}
void give(Results& out, const Plan& p) {
    give(out, p.low_wines);
    give(out, p.fraction(cut_label::hearts).content);
    out << p.balance_error() << p.totals.energy_kwh << p.totals.total_h << p.dilution.water.value() << static_cast<double>(p.bottling.full);
    fuzz::give(out, p.predicted.hearts_pure_alcohol_l);
}

Ledger ledger(const double* const x) {
    Ledger book(LedgerStart{Uncertain::input(x[0], x[1], "potential"), x[2], Uncertain::input(x[3], x[4], "dry matter")});
    const auto place = [](const double which) { return static_cast<batch_place>(static_cast<int>(which < 0.0 || which > 12.0 ? 0.0 : which)); };
    book.expect(batch_place::wash, Uncertain::input(x[5], x[1], "wash"));
    book.expect(place(x[6]), Uncertain(x[7]));
    book.measure(place(x[8]), Uncertain::input(x[9], x[10], "measured"));
    book.measure(place(x[11]), measured{x[12], x[10]});
    book.measure(batch_place::hearts, LiquidReading{{x[13], x[10]}, {x[14], 0.001}, x[15], 0.0});
    book.take_out(place(x[16]), Uncertain(x[17]));
    book.bring_in(batch_place::low_wines, Uncertain(x[18]));
    return book;
}
const std::vector<Input> ledger_inputs{{5.0, 20.0}, {0.0, 1.0},        {20.0, 50.0},      {15.0, 20.0}, {0.0, 1.0},        {4.0, 5.0}, {1.0, 12.0, true},
                                       {0.0, 5.0},  {1.0, 12.0, true}, {0.0, 5.0},        {0.0, 0.1},   {1.0, 12.0, true}, {0.0, 5.0}, {1.0, 10.0},
                                       {0.5, 0.9},  {5.0, 35.0},       {1.0, 12.0, true}, {0.0, 1.0},   {0.0, 1.0}};

constexpr unsigned planned = derived | nan_is_error;

}  // namespace

std::vector<Entry> entries() {
    return {
        // -- charge --
        {"still_liquid StillLiquid::ethanol_kg StillLiquid::extract_kg StillLiquid::volatile_kg StillLiquid::volume_l StillLiquid::abv "
         "StillLiquid::pure_alcohol_l",
         {few_litres, any_share, little_share},
         [](const double* x, Results& out) { give(out, charge(x[0], x[1], x[2])); },
         nullptr,
         nullptr,
         {},
         planned},
        {"plan_charges",
         joined(setup_inputs, {{50.0, 5000.0}, wash_share, {0.0, 0.05}, {0.0, 20.0}, {0.1, 0.5}}),
         [](const double* x, Results& out) {
             const ChargePlan p = plan_charges(charge(x[7], x[8], x[9]), Reserve{x[10], x[11]}, setup(x));
             out << static_cast<double>(p.count) << p.charge_l << p.usable_l << p.head_space_share << p.charge.abw;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"plan_charges",
         joined(setup_inputs, {{50.0, 5000.0}, wash_share, {0.0, 0.05}}),
         [](const double* x, Results& out) { out << static_cast<double>(plan_charges(charge(x[7], x[8], x[9]), setup(x)).count); },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},  // the heating plays no part

        // -- stripping --
        {"strip StripStop::distillate_abv StripStop::pot_abv StripStop::collected StripStop::head StripStop::recovered",
         {few_litres, wash_share, {0.0, 0.05}, {80e3, 105e3}, option(5), {0.01, 0.9}, {2.0, 20.0, true}, {150.0, 400.0}},
         [](const double* x, Results& out) {
             give(out, strip(charge(x[0], x[1], x[2]), pressure<>::from_value(x[3]), stop_of(x[4], x[5]), static_cast<std::size_t>(x[6]), x[7]));
         },
         nullptr,
         nullptr,
         {},
         planned | nan_is_an_answer,
         9,
         true},
        {"strip stripping_duty all_charges",
         joined(setup_inputs, {few_litres,
                               wash_share,
                               {0.0, 0.05},
                               option(5),
                               {0.01, 0.9},
                               {5.0, 30.0},
                               {0.0, 40.0},
                               {15.0, 40.0},
                               {5.0, 15.0},
                               {30.0, 70.0},
                               {0.0, 5.0, true},
                               {0.0, 3.0}}),
         [](const double* x, Results& out) {
             const StillSetup still = setup(x);
             constexpr std::size_t points = 11;
             const Stripping run = strip(charge(x[7], x[8], x[9]), still, stop_of(x[10], x[11]), points);
             const StillDuty d = stripping_duty(run, still, {x[12], x[13], x[14], x[15], x[16]});
             out << d.heat_up_kwh << d.boil_kwh << d.loss_kwh << d.energy_kwh << d.total_h << d.condenser_kwh << d.water_l;
             const StillBill b = all_charges(d, run, static_cast<std::size_t>(std::max(0.0, x[17])), x[18]);
             out << b.energy_kwh << b.total_h << b.low_wines_l << b.low_wines_abv;
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"fill_jars fill_jars FilledJar::as_jar",
         {few_litres, wash_share, {0.0, 0.05}, {0.05, 0.6}, {0.5, 3.0}, {0.5, 3.0}, spirit_c},
         [](const double* x, Results& out) {
             constexpr std::size_t points = 11;
             const Stripping run = strip(charge(x[0], x[1], x[2]), pressure<>::from_value(standard_atmosphere::sea_level_pressure),
                                         StripStop::distillate_abv(by_volume(x[3])), points);
             const std::array<double, 2> sizes{x[4], x[5]};
             const FilledJars two = fill_jars(run, sizes, degrees(x[6]));
             out << two.mass_kg << two.ethanol_kg;
             for (const FilledJar& jar : two.jars) out << jar.filled_l << jar.mass_kg << jar.as_jar(cut_label::hearts).abv;
             const FilledJars alike = fill_jars(run, x[4] * litre, degrees(x[6]));
             out << alike.mass_kg << alike.ethanol_kg;
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"pot_heat::enthalpy rayleigh::enrichment rayleigh::log_residue rayleigh::advance",
         {any_share, little_share, heat_c, {1.0, 10.0}},
         nullptr,
         [](const double* x, Results& out) {
             out << pot_heat::enthalpy(x[0], x[1], x[2]) << rayleigh::enrichment(x[0], x[3])
                 << rayleigh::log_residue([&](const double) { return x[3]; }, 0.5, 0.1);
             double step = 0.1;
             const auto decay = [](const double, const std::array<double, 1>& y) { return std::array<double, 1>{-y[0]}; };
             out << rayleigh::advance<double, 1>(decay, {x[0]}, 0.0, 1.0, step)[0];
         },
         nullptr,
         {},
         unchecked},

        // -- column --
        {"rectify TakeOff::at_reflux TakeOff::at_strength TakeOff::at_rate wash_equilibrium::wash_equilibrium",
         {{20.0, 100.0},
          {0.1, 0.4},
          {0.0, 8.0, true},
          {0.0, 2.0},
          {1.0, 10.0},
          {0.0, 0.5},
          {0.0, 1.0},
          option(3),
          {0.0, 6.0},
          {0.7, 0.93},
          {0.5, 5.0},
          {0.1, 0.8},
          pressure_pa,
          {2.0, 6.0, true}},
         [](const double* x, Results& out) {
             ColumnStop stop;
             stop.distillate_abv = x[11];
             stop.recovered_share = 0.95;
             give(out, rectify({x[0], x[1]}, {static_cast<int>(x[2]), x[3]}, {x[4], x[5], x[6]}, take_off(x[7], x[8], x[9], x[10]), stop,
                               pressure<>::from_value(x[12]), static_cast<int>(x[13])));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine,
         Results::most,
         true},
        {"rectify",
         {{20.0, 100.0}, {0.1, 0.4}, {0.0, 8.0, true}, {0.0, 2.0}, {0.0, 6.0}, {0.1, 0.8}},
         [](const double* x, Results& out) {
             ColumnStop stop;
             stop.pot_abv = 0.1 * x[5];
             stop.collected_l = 20.0 * x[5];
             constexpr int points = 3;
             give(out, rectify({x[0], x[1]}, {static_cast<int>(x[2]), x[3]}, {5.0, 0.1, 0.5}, TakeOff::at_reflux(x[4]), stop, at_sea_level(), points));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine,
         Results::most,
         true},
        {"wash_equilibrium::vapour wash_equilibrium::liquid wash_equilibrium::under wash_equilibrium::azeotrope wash_equilibrium::boiling_c "
         "wash_equilibrium::pressure",
         {any_share},
         nullptr,
         [](const double* x, Results& out) {
             const wash_equilibrium& e = at_sea_level();
             out << e.vapour(x[0]).value << e.liquid(x[0]) << e.under(x[0]).value << e.boiling_c(x[0]) << e.azeotrope() << e.pressure();
         },
         nullptr,
         {},
         unchecked},
        {"plate_column::molar_mass plate_column::by_mass plate_column::by_moles plate_column::by_mass_slope plate_column::under plate_column::down "
         "plate_column::state::reflux plate_column::logit plate_column::surplus plate_column::root plate_column::as_state plate_column::at_reflux "
         "plate_column::at_head",
         {{0.05, 0.4}, {0.5, 0.85}, {0.0, 1.0}, {0.0, 10.0, true}, {0.0, 0.1}},
         nullptr,
         [](const double* x, Results& out) {
             using column = plate_column<wash_equilibrium>;
             const wash_equilibrium& e = at_sea_level();
             const int plates = static_cast<int>(std::max(0.0, x[3]));
             out << column::molar_mass(x[0]) << column::by_mass(x[0]) << column::by_moles(x[0]) << column::by_mass_slope(x[0]) << column::under(e, x[1]).value
                 << column::logit(x[0]);
             const auto found = column::down(e, x[1], x[2], plates);
             const column::contents in{1.0, x[0], x[4]};
             out << found.pot.value << column::surplus(e, in, found).value << column::as_state(in, x[1], x[2], found).reflux();
             out << column::at_reflux(e, in, x[2], plates, x[1]).head << column::at_head(e, in, x[1], plates, x[2]).r;
             out << column::root([&](const double y) { return num::value_and_slope<double>{y - x[0], 1.0}; }, 0.0, 1.0, 0.5);
         },
         nullptr,
         {},
         unchecked,
         Results::most,
         true},
        {"minimum_reflux minimum_reflux_by_moles",
         {{0.05, 0.4}, {0.6, 0.92}, pressure_pa},
         [](const double* x, Results& out) { out << minimum_reflux(by_mass(x[0]), by_mass(x[1]), pressure<>::from_value(x[2])).reflux; },
         nullptr,
         nullptr,
         {},
         planned | infinite_is_fine,
         Results::most,
         true},  // from next to nothing
        {"stages_at_total_reflux total_reflux_stages",
         {{0.05, 0.4}, {0.6, 0.92}, pressure_pa},
         [](const double* x, Results& out) { out << stages_at_total_reflux(by_mass(x[0]), by_mass(x[1]), pressure<>::from_value(x[2])); },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"fenske_stages",
         {{0.5, 0.99}, {0.01, 0.4}, {1.1, 5.0}},
         nullptr,
         [](const double* x, Results& out) { out << fenske_stages(x[0], x[1], x[2]); },
         nullptr,
         {},
         infinite_is_fine},
        {"minimum_reflux_by_moles total_reflux_stages",
         {any_share, any_share},
         nullptr,
         [](const double* x, Results& out) {
             out << minimum_reflux_by_moles(at_sea_level(), x[0], x[1]).reflux << total_reflux_stages(at_sea_level(), x[0], x[1]);
         },
         nullptr,
         {},
         unchecked,
         Results::most,
         true},
        {"reflux_of_partial_condenser",
         {{10.0, 100.0}, {5.0, 20.0}, {25.0, 60.0}, {75.0, 95.0}, {2.0, 10.0}},
         [](const double* x, Results& out) {
             const RefluxSetting s = reflux_of_partial_condenser({x[0], x[1], x[2], x[3]}, x[4]);
             out << s.reflux << s.take_off_per_coolant << s.take_off_per_power << s.condenser_kw;
         },
         nullptr,
         nullptr,
         {},
         planned},
        {"reflux_of_divider",
         {any_share},
         [](const double* x, Results& out) { out << reflux_of_divider(x[0]).reflux; },
         nullptr,
         nullptr,
         {},
         planned | infinite_is_fine},
        {"plates_of_packing whole_plates_of_packing",
         {{0.1, 3.0}, {0.05, 0.5}},
         [](const double* x, Results& out) { out << plates_of_packing(x[0], x[1]) << whole_plates_of_packing(x[0], x[1]); },
         nullptr,
         nullptr,
         {},
         planned},
        {"column_capacity stichlmair_1989::flooding_velocity",
         {{0.03, 0.3}, {0.5, 0.98}, {100.0, 1000.0}, {0.3, 0.95}, pressure_pa, {0.3, 0.95}},
         [](const double* x, Results& out) {
             const stichlmair_1989::bed bed{x[1], x[2], 32.0, 7.0, 1.0};
             const ColumnCapacity c = column_capacity(x[0], bed, by_mass(x[3]), pressure<>::from_value(x[4]), x[5]);
             out << c.flooding_m_per_s << c.flooding_kw << c.boil_up_kw << c.boil_up_kg_per_h << c.pressure_drop_pa_m << c.hold_up_share << c.vapour_density;
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"stichlmair_1989::diameter stichlmair_1989::factor stichlmair_1989::dry stichlmair_1989::hold_up stichlmair_1989::wetted robbins_1991::pressure_drop",
         {{0.1, 3.0}, {0.0, 0.01}, {1.0, 2.0}, {700.0, 1000.0}},
         nullptr,
         [](const double* x, Results& out) {
             const auto& bed = stichlmair_1989::berl_saddle_25mm;
             const stichlmair_1989::fluids fluids{x[2], 1e-5, x[3]};
             out << stichlmair_1989::diameter(bed) << stichlmair_1989::factor(bed, fluids, x[0]).value << stichlmair_1989::dry(bed, fluids, x[0])
                 << stichlmair_1989::hold_up(bed, x[1]) << stichlmair_1989::wetted(bed, fluids, x[0], x[1])
                 << robbins_1991::pressure_drop(100.0, x[0], x[1], x[2], x[3], 1.0);
         },
         nullptr,
         {},
         unchecked},

        // -- congeners --
        {"congener_volatility congener to_string",
         {option(8), any_share, pressure_pa},
         [](const double* x, Results& out) {
             const Congener& c = congener(some_congener(x[0]).name);
             const auto s = congener_volatility(c, by_mass(x[1]), pressure<>::from_value(x[2]));
             out << s.by_mass << s.by_moles << static_cast<double>(to_string(c.evidence).size());
         }},
        {"wagner::vapour_pressure trace_volatility::nrtl_ln_gamma trace_volatility::wilson_ln_gamma trace_volatility::k trace_volatility::at "
         "trace_volatility::mean_molar_mass trace_volatility::crossing",
         {option(8), any_share, pressure_pa, {300.0, 400.0}},
         nullptr,
         [](const double* x, Results& out) {
             const Congener& c = some_congener(x[0]);
             out << c.pressure.vapour_pressure(x[3]) << trace_volatility::nrtl_ln_gamma(c, x[1], x[3]) << trace_volatility::wilson_ln_gamma(c, x[1], x[3])
                 << trace_volatility::k(c, x[1], x[3], x[2]) << trace_volatility::at(c, x[1], x[2]).by_mass << trace_volatility::mean_molar_mass(x[1])
                 << trace_volatility::crossing(c, x[2]);
         },
         nullptr,
         {},
         unchecked,
         Results::most,
         true},
        {"congener_run windows",
         joined(run_inputs, {pressure_pa, {0.0, 100.0}, option(8), {-1.0, 1.0}}),
         [](const double* x, Results& out) {
             const auto points = run_points(x);
             std::vector<CongenerCharge> charges;
             for (const Congener& c : congeners) charges.push_back({c, x[7]});
             const CongenerRun run = congener_run(points, charges, pressure<>::from_value(x[6]), x[9]);
             give(out, run);
             const Windows w = windows(points, charges, pressure<>::from_value(x[6]));
             if (w.boundaries.size() != usual_boundaries.size()) throw std::runtime_error("a boundary is missing");
             const std::array<CongenerRun, 1> runs{run};
             if (windows(runs, charges).boundaries.size() != usual_boundaries.size()) throw std::runtime_error("a boundary is missing");
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"congener_run",
         joined(run_inputs, {{0.2, 0.9}, {0.0, 5.0}, option(8), {0.0, 100.0}}),
         [](const double* x, Results& out) {
             const auto points = run_points(x);
             const std::array<double, 3> strengths{x[6], x[6], x[6]};
             const std::array<CongenerCharge, 1> charges{{{some_congener(x[8]), x[9]}}};
             const std::array<std::vector<double>, 1> ratios{std::vector<double>{x[7], x[7], x[7]}};
             give(out, congener_run(points, strengths, charges, ratios));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"windows",
         joined(run_inputs, {{0.1, 0.9}, {0.1, 0.5}, {0.5, 0.9}}),
         [](const double* x, Results& out) {
             const auto points = run_points(x);
             const std::array<CongenerCharge, 1> charges{{{congeners[0], 1.0}}};
             BoundaryRule rule = usual_boundaries[0];
             rule.level = x[6];
             rule.level_range = {x[7], x[8]};
             rule.congener = congeners[0].name;
             const std::array<BoundaryRule, 1> rules{rule};
             const Windows w = windows(points, charges, 101325.0 * pressure<>::from_value(1.0), rules);
             out << (w.boundaries[0].reached ? 1.0 : 0.0);
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},

        // -- cuts --
        {"work_out_cuts",
         jar_inputs(),
         [](const double* x, Results& out) {
             const Cuts c = work_out_cuts(jars(x));
             give(out, c.total);
             out << c.jars.back().cumulative_volume_l << c.jars.back().cumulative_abv;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"blend_jars",
         joined(jar_inputs(), {option(3), option(3)}),
         [](const double* x, Results& out) {
             const std::array<std::size_t, 2> which{static_cast<std::size_t>(std::max(0.0, x[15])), static_cast<std::size_t>(std::max(0.0, x[16]))};
             give(out, blend_jars(jars(x), which));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish},
        {"recycle_jars",
         joined(jar_inputs(), {option(5)}),
         [](const double* x, Results& out) {
             const std::array<cut_label, 1> label{cut_labels[static_cast<std::size_t>(x[15] < 0.0 || x[15] > 4.0 ? 0.0 : x[15])]};
             give(out, recycle_jars(jars(x), label));
         },
         nullptr,
         nullptr,
         {},
         derived | text_only | nan_may_vanish},
        {"cut_label_from to_string to_string batch_place_from to_string to_string to_string to_string",
         {option(14)},
         [](const double* x, Results& out) {
             const auto i = static_cast<std::size_t>(x[0] < 0.0 ? 0.0 : x[0]);
             out << static_cast<double>(cut_label_from(i < cut_labels.size() ? to_string(cut_labels[i]) : std::string_view("no label")));
             out << static_cast<double>(batch_place_from(i < 13 ? to_string(static_cast<batch_place>(static_cast<int>(i))) : std::string_view("no place")));
             out << static_cast<double>(
                 to_string(static_cast<stop_reason>(static_cast<int>(i))).size() + to_string(static_cast<ledger_line>(static_cast<int>(i))).size() +
                 to_string(static_cast<ledger_basis>(static_cast<int>(i))).size() + to_string(static_cast<ledger_conflict>(static_cast<int>(i))).size());
         },
         nullptr,
         nullptr,
         {},
         derived | text_only},

        // -- ledger --
        {"Ledger::Ledger Ledger::expect Ledger::measure Ledger::measure Ledger::measure Ledger::take_out Ledger::bring_in Ledger::content Ledger::is_measured "
         "Ledger::rows Ledger::ends Ledger::losses Ledger::balance Ledger::findings Ledger::yield_at Ledger::yields Ledger::sheet Ledger::forget",
         joined(ledger_inputs, {{0.0, 4.0}}),
         [](const double* x, Results& out) {
             Ledger book = ledger(x);
             const LedgerBalance b = book.balance();
             fuzz::give(out, b.difference_l);
             out << static_cast<double>(book.rows().size() + book.ends().size() + book.losses().size()) << static_cast<double>(book.findings(x[19]).size());
             for (const LedgerYield& y : book.yields()) out << y.litres.value();
             fuzz::give(out, book.yield_at(batch_place::hearts).litres_per_tonne);
             out << book.content(batch_place::hearts)->value() << (book.is_measured(batch_place::hearts) ? 1.0 : 0.0);
             if (book.sheet(x[19]).empty()) throw std::runtime_error("an empty sheet");
             book.forget(batch_place::hearts);
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true,
         [](const double* x, const char** what) {
             *what = "the ledger does not close";
             try {
                 const LedgerBalance b = ledger(x).balance();
                 constexpr double round_off = 1e-9;
                 return std::abs(b.difference_l.value()) <= round_off * (b.start_l.value() + b.came_in_l.value() + std::abs(b.ended_l.value()));
             } catch (const Error&) {
                 return true;
             }
         }},
        {"pure_alcohol_of",
         {{0.5, 50.0}, {0.0, 0.5}, {0.05, 0.9}, {0.0, 0.05}, wash_c, {0.0, 0.05}},
         [](const double* x, Results& out) {
             fuzz::give(out, pure_alcohol_of({{x[0], x[1]}, {x[2], x[3]}, x[4], x[5]}, "a liquid"));
         },
         nullptr,
         nullptr,
         {},
         planned | infinite_is_fine},

        // -- plan --
        {"plan Plan::fraction Plan::balance_error Plan::ledger Plan::sheet CutEnd::alcohol_share CutEnd::collected CutEnd::distillate Ledger::Ledger "
         "Ledger::Ledger",
         plan_inputs(),
         [](const double* x, Results& out) {
             const Plan p = plan(request(x));
             give(out, p);
             if (p.sheet().empty() || p.ledger().rows().empty()) throw std::runtime_error("an empty sheet");
             const Ledger of_potential(p.potential);
             const Ledger of_both(p.potential, p.water);
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"plan PlanTables::at what_if",
         plan_inputs(),
         [](const double* x, Results& out) {
             PlanTables tables;
             give(out, plan(request(x), tables));
             give(out, what_if(request(x), [](PlanRequest& r) { r.bottling.target_abv = 0.4; }));
             out << tables.at(pressure<>::from_value(101325.0)).azeotrope();
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"plans plans PlanRow::PlanRow",
         plan_inputs(),
         [](const double* x, Results& out) {
             PlansOptions options;
             options.threads = 1;
             const std::vector<PlanRequest> requests(2, request(x));
             const PlanRows rows = plans(requests, options);
             if (rows.first_failure) std::rethrow_exception(rows.first_failure->error);
             const PlanRow& r = rows.rows[1];
             out << r.wash_l << r.wash_abv << r.low_wines_l << r.hearts_l << r.hearts_abv << r.bottles << r.energy_kwh << r.total_h << r.recovered_share
                 << r.balance_error;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
    };
}

}  // namespace fuzz
