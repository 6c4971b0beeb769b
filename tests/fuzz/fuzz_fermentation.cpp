// Every function of the folder fermentation.

#include <algorithm>
#include <array>
#include <cmath>
#include <ferment/fermentation.hpp>
#include <limits>
#include <stdexcept>
#include <string>
#include <string_view>

#include "grains.hpp"

namespace fuzz {
namespace {

std::vector<Input> batch_inputs() {
    return joined(assumption_inputs, {{5.0, 40.0},
                                      {20.0, 150.0},
                                      {0.01, 0.5},
                                      {0.2, 2.0},
                                      {0.5, 3.0},
                                      {15.0, 35.0},
                                      {5.0, 30.0},
                                      {0.0, 10.0},
                                      {0.0, 24.0},
                                      {0.0, 20.0},
                                      {0.0, 100.0},
                                      {0.0, 24.0}});
}
Potential potential_of(const double* const x, Bill& bill) {
    bill.add(grain("wheat"), kg(x[6]));
    return potential(bill, kg(x[7]), assumptions_of(x));
}
Fermentation batch(const double* const x) {
    Bill bill;
    const Potential p = potential_of(x, bill);
    Conditions c;
    c.mash_c = x[11];
    c.ambient = Ambient::day_night(x[12], x[13], x[14]);
    c.vessel = {x[15], x[16], x[17]};
    return Fermentation::of(bill, p, {x[8], x[9], x[10]}, c);
}
void give(Results& out, const WashState& s) {
    out << s.temperature_c << s.gravity << s.abv << s.abw << s.real_extract << s.conversion << s.free_sugar << s.open_starch << s.ethanol_kg << s.co2_kg
        << s.co2_lost_kg << s.co2_l_per_h << s.heat_w << s.yeast;
}
Reading reading(const double hour, const double gravity, const double doubt) {
    Reading r;
    r.time_h = hour;
    r.gravity = measured{gravity, doubt};
    return r;
}
constexpr unsigned planned = derived | nan_is_error;
const Input hour{0.0, 200.0};

}  // namespace

std::vector<Entry> entries() {
    return {
        {"Fermentation::of Fermentation::mash_l Fermentation::set_prior Fermentation::values",
         joined(batch_inputs(), {option(40), {0.1, 10.0}, {0.0, 1.0}}),
         [](const double* x, Results& out) {
             Fermentation f = batch(x);
             const auto i = static_cast<std::size_t>(x[18] < 0.0 ? 0.0 : x[18]);
             f.set_prior(i < kinetic_table.size() ? kinetic_table[i].name : std::string_view("no parameter"), x[19], x[20]);
             out << f.mash_l() << f.values(kinetic_values<double>{})[0];
         },
         nullptr,
         nullptr,
         {},
         planned | text_only},
        {"end_point no_cook::overall no_cook::fermentation_efficiency no_cook::conversion no_cook::assumptions mean_and_spread wash_model::of "
         "wash_model::plain wash_model::stage wash_model::gravity wash_model::abv",
         joined(batch_inputs(), {any_share, {0.0, 0.1}, any_share, any_share}),
         [](const double* x, Results& out) {
             Bill bill;
             const Potential p = potential_of(x, bill);
             const EndPoint e = end_point(p, {x[18], x[19]});
             for (const Uncertain* u : {&e.ethanol_kg, &e.pure_alcohol_l, &e.wash_kg, &e.wash_volume_l, &e.abw, &e.abv, &e.real_extract, &e.gravity}) {
                 fuzz::give(out, *u);
             }
             out << no_cook::overall().value << no_cook::fermentation_efficiency().value << no_cook::conversion().value
                 << no_cook::assumptions().conversion.value;
             const wash_model model = wash_model::of(p, {x[18], x[19]}).plain();
             const Results before = out;
             (void)model.gravity(Uncertain(x[20]), Uncertain(x[21]));
             (void)model.abv(Uncertain(x[20]), Uncertain(x[21]));
             (void)model.stage(Uncertain(x[20]), Uncertain(x[21]));
             out = before;
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"read_wash to_string",
         joined(batch_inputs(), {{0.99, 1.1}, {0.0, 0.01}, any_share}),
         [](const double* x, Results& out) {
             Bill bill;
             const WashReading r = read_wash(potential_of(x, bill), sg<at_20_20>(x[18]), x[19], {x[20], 0.01});
             fuzz::give(out, r.start_gravity);
             fuzz::give(out, r.end_gravity);
             fuzz::give(out, r.highest_gravity);
             if (to_string(r.says).empty()) throw std::runtime_error("a verdict without words");
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish,
         Results::most,
         true},
        {"yeast_of_cells",
         {{1.0, 100.0}, {0.01, 1.0}},
         [](const double* x, Results& out) { out << yeast_of_cells(x[0], cubic_metres(x[1])).value(); },
         nullptr,
         nullptr,
         {},
         planned | infinite_is_fine},
        {"Ambient::day_night Ambient::constant Ambient::at Ambient::steady Ambient::daily Ambient::is_logged",
         {{5.0, 30.0}, {0.0, 10.0}, {0.0, 24.0}, hour},
         [](const double* x, Results& out) {
             const Ambient a = Ambient::day_night(x[0], x[1], x[2]);
             out << a.at(x[3]) << Ambient::constant(x[0]).at(x[3]) << (a.steady() && !a.is_logged() ? 1.0 : 0.0);
         },
         nullptr,
         nullptr,
         {},
         derived | nan_may_vanish | nan_is_an_answer},
        {"Ambient::logged",
         {{0.0, 24.0}, {24.0, 48.0}, {5.0, 30.0}, {5.0, 30.0}, hour},
         [](const double* x, Results& out) {
             out << Ambient::logged({x[0], x[1]}, {x[2], x[3]}).at(x[4]);
         },
         nullptr,
         nullptr,
         {},
         derived},
        {"vessel_heat::surface_m2 vessel_heat::most_sunshine_w vessel_heat::sunshine_w vessel_heat::daylight_w",
         {{10.0, 1000.0}, hour},
         nullptr,
         [](const double* x, Results& out) {
             out << vessel_heat::surface_m2(x[0]) << vessel_heat::most_sunshine_w(x[0]) << vessel_heat::sunshine_w(Vessel{7.0, x[0], 12.0}, x[1])
                 << vessel_heat::daylight_w(Vessel{7.0, x[0], 12.0}, x[1]);
         },
         nullptr,
         {},
         unchecked},
        {"kinetic_parameter::at no_cook_kinetics::arrhenius no_cook_kinetics::cardinal no_cook_kinetics::positive iodine_test::chance_positive done",
         {{-3.0, 3.0}, {0.0, 50.0}, {0.0, 100.0}},
         nullptr,
         [](const double* x, Results& out) {
             for (const kinetic_parameter& p : kinetic_table) out << p.at(x[0]);
             out << no_cook_kinetics::arrhenius(x[1], x[2]) << no_cook_kinetics::cardinal(x[1]) << no_cook_kinetics::positive(x[0])
                 << iodine_test::chance_positive(x[2]) << (done(x[2], x[0]) ? 1.0 : 0.0);
         },
         nullptr,
         {},
         unchecked},
        {"starch_forms::fast_share parameter_names to_string to_string to_string to_string",
         {option(8)},
         [](const double* x, Results& out) {
             constexpr std::string_view forms[] = {"grain", "grits", "flour", "rolled", "flakes", "malt", "no form", ""};
             const auto i = static_cast<std::size_t>(x[0] < 0.0 || x[0] > 7.0 ? 7.0 : x[0]);
             out << static_cast<double>(parameter_names().size() + to_string(static_cast<standing>(static_cast<int>(i % 4))).size() +
                                        to_string(static_cast<cause>(static_cast<int>(i))).size() +
                                        to_string(static_cast<spread_scale>(static_cast<int>(i % 2))).size() +
                                        to_string(static_cast<evidence>(static_cast<int>(i % 2))).size());
             out << starch_forms::fast_share(forms[i], "a grain");
         },
         nullptr,
         nullptr,
         {},
         derived | text_only},
        {"simulate observe rates fermentation_course::of fermentation_course::start fermentation_course::dissolved fermentation_course::taken "
         "fermentation_course::conversion fermentation_course::stage fermentation_course::at fermentation_course::open_starch fermentation_course::done "
         "fermentation_course::operator() fermentation_course::slopes measurable dose_factor rates_at_dose ode::integrate",
         joined(batch_inputs(), {{0.0, 50.0}, {50.0, 300.0}, {-2.0, 2.0}}),
         [](const double* x, Results& out) {
             kinetic_values<double> z{};
             z[0] = x[20];
             z[kinetic::count - 1] = x[20];
             const Course c = simulate(batch(x), {x[18], x[19]}, z);
             for (const WashState& s : c.at) give(out, s);
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"quantile_of_sorted spread_of Counts::Counts Counts::bracket_of Counts::add Counts::resolution Counts::size Counts::quantile Counts::spread",
         {{0.0, 1.0}, {1.0, 2.0}, {2.0, 3.0}, any_share},
         nullptr,
         [](const double* x, Results& out) {
             for (const double q : spread_of({x[0], x[1], x[2]})) out << q;
             if (x[3] >= 0.0 && x[3] <= 1.0) out << quantile_of_sorted({x[0], x[1], x[2]}, x[3]);
             const std::array<double, 3> values{x[0], x[1], x[2]};
             constexpr std::size_t bins = 8;
             Counts counts(Counts::bracket_of(values), bins);
             counts.add(values);
             out << counts.resolution() << static_cast<double>(counts.size());
             if (x[3] >= 0.0 && x[3] <= 1.0) out << counts.quantile(x[3]) << counts.spread()[0];
         },
         nullptr,
         {},
         unchecked},
        {"forecast Belief::draw Belief::middle Forecast::done_by Forecast::done",
         joined(batch_inputs(), {{1.0, 100.0}, {0.0, 8.0, true}}),
         [](const double* x, Results& out) {
             const auto members = static_cast<std::size_t>(std::max(0.0, x[19]));
             const Forecast f = forecast(batch(x), {x[18]}, Belief{}, members, 7);
             for (const double g : f.gravity[0]) out << g;
             out << f.done_by(x[18]) << Belief{}.middle()[0];
             (void)f.done();
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"fit",
         joined(batch_inputs(), {{1.0, 100.0}, {0.99, 1.06}, {0.0005, 0.003}}),
         [](const double* x, Results& out) {
             const Fitted f = fit(batch(x), {reading(x[18], x[19], x[20])});
             out << f.misfit << f.chance << f.log_evidence;
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
        {"forecast_with_readings check",
         joined(batch_inputs(), {{1.0, 100.0}, {0.99, 1.06}, {0.0005, 0.003}}),
         [](const double* x, Results& out) {
             constexpr std::size_t members = 2;
             const Fermentation f = batch(x);
             const std::vector<Reading> readings{reading(x[18], x[19], x[20])};
             const Forecast with = forecast_with_readings(f, {x[18] + 24.0}, readings, members, 7);
             for (const double g : with.gravity[0]) out << g;
             const Check c = check(f, readings, members, 7);
             if (c.says.empty()) throw std::runtime_error("a check that says nothing");
             for (const double p : c.probability) out << p;
         },
         nullptr,
         nullptr,
         {},
         planned,
         Results::most,
         true},
    };
}

}  // namespace fuzz
