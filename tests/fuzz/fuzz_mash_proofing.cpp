// Every function of the folders mash and proofing.

#include <array>
#include <cmath>
#include <ferment/proofing.hpp>
#include <stdexcept>
#include <string_view>

#include "grains.hpp"

namespace fuzz {
namespace {

void give(Results& out, const Yield& y) {
    for (const Uncertain* u : {&y.starch_converted_kg, &y.hydrolysis_water_kg, &y.hexose_kg, &y.extract_kg, &y.extract, &y.original_gravity, &y.ethanol_kg,
                               &y.pure_alcohol_l, &y.co2_kg, &y.by_products_kg, &y.bill.extract_as_is, &y.bill.pure_alcohol_l_per_tonne}) {
        fuzz::give(out, *u);
    }
}
void give(Results& out, const Grain& g) {
    for (const measured& m : {g.moisture, g.starch, g.sugars, g.protein, g.fat, g.fibre, g.ash}) out << m.value << m.standard_uncertainty;
}
void give(Results& out, const SpiritMass& s) {
    out << s.total.value() << s.ethanol.value();
}
void give(Results& out, const Dilution& d) {
    give(out, d.spirit);
    give(out, d.result);
    out << d.water.value() << d.water_volume.value() << d.volume_at_20c.value() << d.contraction.value();
}
SpiritMass spirit(const double volume, const double strength, const double temperature) {
    return weigh(cubic_metres(volume), by_mass(strength), degrees(temperature));
}
constexpr Input cubic{1e-4, 1.0};
constexpr Input spirit_share{0.2, 0.95};
constexpr Input warm_c{0.0, 40.0};

}  // namespace

std::vector<Entry> entries() {
    return {
        // -- mash --
        {"validate", grain_inputs, [](const double* x, Results& out) { give(out, validate(grain_of(x))); }, nullptr, nullptr, {}, derived | nan_is_error},
        {"with_analysis",
         joined(grain_inputs, {{0.08, 0.15}, {0.5, 0.7}, {0.0, 0.02}, option(2)}),
         [](const double* x, Results& out) {
             Analysis a;
             a.moisture = measured{x[8], x[10]};
             a.starch = measured{x[9], x[10]};
             a.on = x[11] == 0.0 ? basis::as_is : basis::dry;
             give(out, with_analysis(grain_of(x), a));
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"grain grain_names Grain::hexose_per_sugar Bill::empty",
         {option(200)},
         [](const double* x, Results& out) {
             static const std::vector<std::string> names = grain_names();
             const auto i = static_cast<std::size_t>(x[0] < 0.0 ? 0.0 : x[0]);
             const Grain g = grain(i < names.size() ? std::string_view(names[i]) : std::string_view("no grain 7"));
             give(out, validate(g));
             out << g.hexose_per_sugar() << (Bill().empty() ? 1.0 : 0.0);
         },
         nullptr,
         nullptr,
         {},
         derived | text_only},
        {"Bill::Bill Bill::add Bill::items Bill::total",
         joined(grain_inputs, {{0.1, 100.0}, {0.1, 100.0}}),
         [](const double* x, Results& out) {
             Bill bill(std::vector<BillItem>{{grain_of(x), kg(x[8])}});
             bill.add(grain("wheat"), kg(x[9]));
             out << bill.total().value() << static_cast<double>(bill.items().size());
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"potential water_balance",
         joined(joined(grain_inputs, assumption_inputs), {{1.0, 20.0}, {10.0, 60.0}, {0.5, 1.2}, {0.0, 0.1}, {0.0, 0.5}}),
         [](const double* x, Results& out) {
             Bill bill;
             bill.add(grain_of(x), kg(x[14]));
             const Potential p = potential(bill, kg(x[15]), assumptions_of(x + 8));
             give(out, p.theoretical);
             give(out, p.expected);
             const WaterBalance w = water_balance(bill, p, {{x[16], x[17]}, x[18]});
             for (const Uncertain* u : {&w.absorbed_kg, &w.free_kg, &w.free_share, &w.displacement_l, &w.mash_volume_l, &w.vessel_volume_l}) {
                 fuzz::give(out, *u);
             }
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error | infinite_is_fine,
         Results::most,
         true},
        {"potential",
         joined(assumption_inputs, {{1.0, 20.0}, {0.01, 0.06}, {0.0, 100.0}}),
         [](const double* x, Results& out) {
             Bill bill;
             bill.add(grain("wheat"), kg(x[6]));
             give(out, potential(bill, cubic_metres(x[7]), degrees(x[8]), assumptions_of(x)).expected);
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error | infinite_is_fine,
         Results::most,
         true},
        {"specific_volume choi_okos_1986::specific_volume",
         joined(grain_inputs, {{0.0, 150.0}}),
         [](const double* x, Results& out) {
             const measured v = specific_volume(grain_of(x), degrees(x[8]));
             out << v.value << v.standard_uncertainty;
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"litre_degrees_of_extract", {sugar_share}, nullptr, [](const double* x, Results& out) { out << litre_degrees_of_extract(x[0]); }},
        {"laboratory_mash::extract_as_is laboratory_mash::extract_dry",
         {sugar_share, any_share},
         nullptr,
         [](const double* x, Results& out) { out << laboratory_mash::extract_as_is(x[0], x[1]) << laboratory_mash::extract_dry(x[0], x[1]); },
         nullptr,
         {},
         infinite_is_fine},
        {"mash_balance::stage wash_masses::liquid wash_masses::total",
         {any_share, any_share, any_share, any_share, any_share, {0.0, 5.0}},
         nullptr,
         [](const double* x, Results& out) {
             const mash_masses<double> in{0.6, 0.03, 0.031, 0.12, 0.25};
             const wash_masses<double> m = mash_balance::stage<double>(in, x[5], x[0], x[1], x[2], x[3], x[4]);
             out << m.total() << m.liquid() << m.ethanol;
         },
         nullptr,
         {},
         unchecked,
         Results::most,
         false,
         [](const double* x, const char** what) {
             *what = "a mash loses or gains mass";
             const mash_masses<double> in{0.6, 0.03, 0.031, 0.12, 0.25};
             for (int i = 0; i < 5; ++i) {
                 if (!(x[i] >= 0.0 && x[i] <= 1.0)) return true;
             }
             if (!(x[5] >= 0.0 && x[5] < 1e6)) return true;
             const double all = mash_balance::stage<double>(in, x[5], x[0], x[1], x[2], x[3], x[4]).total();
             constexpr double round_off = 1e-14;
             return std::abs(all - (1.0 + x[5])) <= round_off * (1.0 + x[5]);
         }},

        // -- proofing --
        {"weigh strength_of volume_of pure_alcohol",
         {cubic, any_share, spirit_c, spirit_c},
         [](const double* x, Results& out) {
             const SpiritMass s = spirit(x[0], x[1], x[2]);
             give(out, s);
             out << strength_of(s).value() << volume_of(s, degrees(x[3])).value() << pure_alcohol(s).value();
         },
         nullptr,
         nullptr,
         {},
         derived | infinite_is_fine | nan_may_vanish},
        {"blend contraction",
         {cubic, spirit_share, warm_c, cubic, spirit_share, warm_c},
         [](const double* x, Results& out) {
             const std::array<SpiritMass, 2> parts{spirit(x[0], x[1], x[2]), spirit(x[3], x[4], x[5])};
             give(out, blend(parts));
             out << contraction(parts).value();
         },
         nullptr,
         nullptr,
         {},
         derived | infinite_is_fine | nan_is_an_answer,
         2},
        {"bottles",
         {cubic, spirit_share, warm_c, {1e-4, 2e-3}, warm_c},
         [](const double* x, Results& out) {
             const Bottling b = bottles(spirit(x[0], x[1], x[2]), cubic_metres(x[3]), degrees(x[4]));
             out << static_cast<double>(b.full) << b.fill_volume.value() << b.volume_at_fill.value() << b.rest_at_20c.value();
         },
         nullptr,
         nullptr,
         {},
         derived | nan_is_error},
        {"dilute",
         {cubic, {0.4, 0.95}, warm_c, {0.1, 0.4}, warm_c},
         [](const double* x, Results& out) { give(out, dilute(spirit(x[0], x[1], x[2]), by_mass(x[3]), degrees(x[4]))); },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine,
         4},
        {"add_water",
         {cubic, spirit_share, warm_c, {0.0, 100.0}, warm_c},
         [](const double* x, Results& out) { give(out, add_water(spirit(x[0], x[1], x[2]), kg(x[3]), degrees(x[4]))); },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine,
         4},
        {"dilute_to_volume",
         {{0.4, 0.95}, {0.1, 0.4}, cubic, warm_c},
         [](const double* x, Results& out) { give(out, dilute_to_volume(by_mass(x[0]), by_mass(x[1]), cubic_metres(x[2]), degrees(x[3]))); },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine,
         4},
        {"apparent_strength",
         {{0.2, 1.0}, {0.0, 200.0}},
         [](const double* x, Results& out) { out << apparent_strength(by_volume(x[0]), x[1]).value(); },
         nullptr,
         nullptr,
         {},
         derived},
        {"strength_of_sweetened",
         {any_share, {0.0, 500.0}},
         [](const double* x, Results& out) { out << strength_of_sweetened(by_volume(x[0]), x[1]).value(); },
         nullptr,
         [](const double* x, const double y) { return apparent_strength(by_volume(y), x[1]).value(); },
         any_share,
         derived},
        {"sweeten",
         {cubic, {0.5, 0.95}, warm_c, {0.05, 0.4}, {0.0, 400.0}},
         [](const double* x, Results& out) {
             const Sweetening s = sweeten(spirit(x[0], x[1], x[2]), by_volume(x[3]), x[4]);
             out << s.result.total.value() << s.result.ethanol.value() << s.sugar.value() << s.water.value() << s.volume_20c.value() << s.apparent.value();
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | infinite_is_fine | nan_is_an_answer,
         5},
    };
}

}  // namespace fuzz
