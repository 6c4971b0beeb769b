#include <cmath>
#include <ferment/still/duty.hpp>
#include <string>

#include "liquid/checks.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

constexpr double conserved = 1e-12;  // relative
const pressure<> outside = 101.325 * kilopascal;

bool close(const double a, const double b, const double relative = conserved) {
    return std::abs(a - b) <= relative * std::abs(b);
}
StillLiquid wash_of(const double litres, const double vol_percent, const double plato) {
    return still_liquid(litres * litre, vol_percent * percent_vol, plato * degree_plato);
}
Stripping usual_run(const double litres = 500.0, const std::size_t points = 51) {
    return strip(wash_of(litres, 8.0, 3.0), outside, StripStop::distillate_abv(1.0 * percent_vol), points);
}
StillSetup heated(const double kw, const double loss_share = 0.0, const double loss_w_per_k = 0.0, const double metal = 0.0) {
    StillSetup still;
    still.boiler_l = 700.0;
    still.heating_kw = kw;
    still.heat_loss_share = loss_share;
    still.heat_loss_w_per_k = loss_w_per_k;
    still.still_heat_kj_per_k = metal;
    return still;
}

}  // namespace

TEST_CASE("boiling water away takes its latent heat", "[still][duty]") {
    const Stripping run = strip(wash_of(100.0, 0.0, 0.0), outside, StripStop::collected(40.0 * litre));
    const StillDuty d = stripping_duty(run, heated(10.0), {});
    bool found = false;
    for (const Row& row : read_table("distillation/heat_of_vaporisation.csv")) {
        if (row.text("compound") != "water") continue;
        found = true;
        const double kj_per_kg = 1000.0 * row.number("Hvap_Tb_CRC") / stoichiometry::water;
        CHECK(close(3600.0 * d.boil_kwh, run.low_wines.mass_kg * kj_per_kg, 0.01));
    }
    CHECK(found);
    // Heating up and cooling with the heat capacity of water, 3 % of the published table.
    std::size_t rows = 0;
    for (const Row& row : read_table("distillation/heat_capacity_mixture.csv")) {
        if (row.number("ethanol_wt_pct") != 0.0) continue;
        ++rows;
        const double cp = row.number("cp_Laliberte");
        CHECK(close(3600.0 * d.heat_up_kwh, run.charge.mass_kg * cp * (run.boiling_start_c - 20.0), 0.03));
        CHECK(close(3600.0 * d.condenser_kwh, d.water_l * 0.9991 * cp * (50.0 - 15.0), 0.03));
    }
    CHECK(rows > 0);
}

TEST_CASE("the energy of a run adds up", "[still][duty]") {
    const Stripping run = usual_run();
    const RunConditions at;
    const StillSetup still = heated(20.0, 0.1, 15.0, 40.0);
    const StillDuty d = stripping_duty(run, still, at);
    CHECK(close(d.heat_up_kwh + d.boil_kwh + d.loss_kwh, d.energy_kwh));
    CHECK(close(d.energy_kwh, 20.0 * d.total_h));
    CHECK(close(d.total_h, d.heat_up_h + d.boil_h));
    SECTION("in is out: condenser, low wines, pot and metal") {
        const double low_wines = run.low_wines.mass_kg * spirit_heat::liquid_enthalpy(run.low_wines.abw, at.distillate_c) / 1e3;
        const double left = run.pot.mass_kg * pot_heat::enthalpy(run.pot.abw, run.pot.extract, run.boiling_end_c) / 1e3;
        const double charged = run.charge.mass_kg * pot_heat::enthalpy(run.charge.abw, run.charge.extract, at.start_c) / 1e3;
        const double metal = still.still_heat_kj_per_k * (run.boiling_end_c - at.start_c);
        CHECK(close(3600.0 * (d.heat_up_kwh + d.boil_kwh), 3600.0 * d.condenser_kwh + low_wines + left - charged + metal, 1e-9));
    }
    SECTION("the heat of the vapour along the run, by the trapezium rule over a fine curve") {
        const Stripping fine = usual_run(500.0, 2001);
        double vapour = 0.0;
        double cooled = 0.0;
        for (std::size_t i = 1; i < fine.curve.size(); ++i) {
            const auto per_kg = [&](const StrippingPoint& p) { return spirit_heat::vapour_enthalpy(p.distillate_abw, p.head_c) / 1e3; };
            const auto condensed = [&](const StrippingPoint& p) { return per_kg(p) - spirit_heat::liquid_enthalpy(p.distillate_abw, at.distillate_c) / 1e3; };
            const double kg = fine.curve[i].collected_kg - fine.curve[i - 1].collected_kg;
            vapour += 0.5 * kg * (per_kg(fine.curve[i]) + per_kg(fine.curve[i - 1]));
            cooled += 0.5 * kg * (condensed(fine.curve[i]) + condensed(fine.curve[i - 1]));
        }
        CHECK(close(run.curve.back().vapour_heat_kj, vapour, 1e-6));
        // Fraction by fraction; that they warm or cool a little when they run together is counted with the condenser: 0.5 % at most.
        CHECK(close(3600.0 * d.condenser_kwh, cooled, 5e-3));
    }
    SECTION("the heat to warm the charge is that of the wash") {
        const double joules = wash_heating(run.charge.mass_kg * kilogram, abw<>::from_value(run.charge.abw), extract<>::from_value(run.charge.extract),
                                           20.0 * degree_celsius, run.boiling_start_c * degree_celsius)
                                  .value();
        CHECK(close(3.6e6 * d.heat_up_kwh, joules + 40e3 * (run.boiling_start_c - 20.0), 1e-10));
    }
    SECTION("cooling water: flow times hours, the peak above the mean") {
        CHECK(close(d.water_l, d.water_l_per_h * d.boil_h));
        CHECK(close(d.condenser_kwh, d.condenser_mean_kw * d.boil_h));
        CHECK(d.condenser_peak_kw > d.condenser_mean_kw);
        CHECK(d.condenser_peak_kw < 20.0 * 1.2);
        CHECK(close(d.water_peak_l_per_h / d.water_l_per_h, d.condenser_peak_kw / d.condenser_mean_kw));
        CHECK(close(run.low_wines_l, d.low_wines_l_per_h * d.boil_h));
        RunConditions wider = at;
        wider.water_out_c = 15.0 + 2.0 * 35.0;
        CHECK(close(stripping_duty(run, still, wider).water_l, 0.5 * d.water_l, 0.01));
        RunConditions warm = at;
        warm.distillate_c = 40.0;
        CHECK(stripping_duty(run, still, warm).condenser_kwh < d.condenser_kwh);
    }
}

TEST_CASE("losses make a run longer", "[still][duty]") {
    const Stripping run = usual_run();
    const StillDuty tight = stripping_duty(run, heated(20.0), {});
    CHECK(tight.loss_kwh == 0.0);  // a still that loses nothing loses nothing, not a round-off
    SECTION("a share of the heating") {
        const StillDuty d = stripping_duty(run, heated(20.0, 0.2), {});
        CHECK(close(d.total_h, tight.total_h / 0.8, 1e-9));
        CHECK(close(d.loss_kwh, 0.2 * d.energy_kwh));
        CHECK(close(d.boil_kwh, tight.boil_kwh));
    }
    SECTION("to the room, while boiling: watts per kelvin times kelvins times hours") {
        // Of a wash that hardly changes its boiling point.
        const Stripping water = strip(wash_of(100.0, 0.0, 0.0), outside, StripStop::collected(40.0 * litre));
        const StillDuty d = stripping_duty(water, heated(10.0, 0.0, 20.0), {});
        const double kw = 20.0 * (water.boiling_start_c - 20.0) / 1000.0;
        CHECK(close(d.boil_h, d.boil_kwh / (10.0 - kw), 1e-9));
    }
    SECTION("to the room, while heating up: the exponential of a constant heat capacity") {
        // A drop of water in a heavy still, so that the metal alone counts.
        const Stripping drop = strip(wash_of(1e-4, 0.0, 0.0), outside, StripStop::collected(4e-5 * litre));
        const StillDuty d = stripping_duty(drop, heated(5.0, 0.0, 30.0, 1000.0), {});
        const double hours = 1000.0 / 0.030 * std::log(5.0 / (5.0 - 0.030 * (drop.boiling_start_c - 20.0))) / 3600.0;
        CHECK(close(d.heat_up_h, hours, 1e-5));
    }
    SECTION("fine curves and coarse ones agree") {
        const StillDuty coarse = stripping_duty(usual_run(500.0, 11), heated(20.0, 0.0, 20.0, 40.0), {});
        const StillDuty fine = stripping_duty(usual_run(500.0, 401), heated(20.0, 0.0, 20.0, 40.0), {});
        CHECK(close(coarse.boil_h, fine.boil_h, 1e-4));
        CHECK(close(coarse.boil_kwh, fine.boil_kwh, 1e-9));
        CHECK(close(coarse.water_l, fine.water_l, 1e-9));
    }
}

TEST_CASE("a still warmed to the first drop and no further", "[still][duty]") {
    const Stripping none = strip(wash_of(100.0, 8.0, 3.0), outside, StripStop::collected(0.0 * litre));
    const StillDuty d = stripping_duty(none, heated(10.0), {});
    CHECK(d.boil_h == 0.0);
    CHECK(d.boil_kwh == 0.0);
    CHECK(d.loss_kwh == 0.0);
    CHECK(d.condenser_kwh == 0.0);
    CHECK(d.water_l_per_h == 0.0);
    CHECK(d.low_wines_l_per_h == 0.0);
    CHECK(d.heat_up_kwh > 0.0);
    RunConditions hot;
    hot.start_c = none.boiling_start_c;
    CHECK(std::abs(stripping_duty(none, heated(10.0), hot).heat_up_h) <= 1e-12);
}

TEST_CASE("several charges", "[still][duty]") {
    const Stripping run = usual_run();
    const StillDuty d = stripping_duty(run, heated(20.0, 0.1), {});
    const StillBill bill = all_charges(d, run, 4, 1.5);
    CHECK(bill.charges == 4);
    CHECK(close(bill.energy_kwh, 4.0 * d.energy_kwh));
    CHECK(close(bill.water_l, 4.0 * d.water_l));
    CHECK(close(bill.turnaround_h, 4.5));
    CHECK(close(bill.total_h, 4.0 * d.total_h + 4.5));
    CHECK(close(bill.mean_kw * bill.total_h, bill.energy_kwh));
    CHECK(close(bill.low_wines_l, 4.0 * run.low_wines_l));
    CHECK(bill.low_wines_abv == run.low_wines_abv);
    CHECK(bill.cautions == still_cautions);
    CHECK(d.cautions == still_cautions);
    SECTION("without metal and loss, one charge takes what its halves take together") {
        const StillDuty whole = stripping_duty(run, heated(20.0), {});
        const Stripping half_run = usual_run(250.0);
        const StillBill halves = all_charges(stripping_duty(half_run, heated(20.0), {}), half_run, 2);
        CHECK(close(halves.energy_kwh, whole.energy_kwh, 1e-10));
        CHECK(close(halves.total_h, whole.total_h, 1e-10));
        CHECK(close(halves.water_l, whole.water_l, 1e-10));
    }
    SECTION("the metal is heated every time") {
        const StillDuty heavy = stripping_duty(run, heated(20.0, 0.0, 0.0, 50.0), {});
        const StillDuty light = stripping_duty(run, heated(20.0), {});
        const double once = 50.0 * (run.boiling_end_c - 20.0) / 3600.0;
        CHECK(close(all_charges(heavy, run, 3).energy_kwh - all_charges(light, run, 3).energy_kwh, 3.0 * once, 1e-8));
    }
    CHECK(begins(range_error([&] { all_charges(d, run, 0); }), "number of charges 0 must be 1 or more"));
    CHECK(begins(range_error([&] { all_charges(d, run, 2, -1.0); }), "turnaround -1 h is below the lowest allowed, 0 h"));
    CHECK_THROWS_AS(all_charges(d, run, 2, not_a_number), InputError);
}

TEST_CASE("errors of a duty", "[still][duty]") {
    const Stripping run = usual_run();
    const auto with = [&](double RunConditions::*field, const double x) {
        RunConditions at;
        at.*field = x;
        return range_error([&] { stripping_duty(run, heated(20.0), at); });
    };
    CHECK(begins(with(&RunConditions::start_c, -1.0), "start temperature -1 degC is outside 0 to 93.7"));
    CHECK(begins(with(&RunConditions::start_c, 95.0), "start temperature 95 degC is outside 0 to 93.7"));
    CHECK(begins(with(&RunConditions::water_in_c, 21.0), "cooling water in 21 degC is outside 0 to 20 degC"));
    CHECK(begins(with(&RunConditions::water_out_c, 15.0), "cooling water out 15 degC must be warmer than in, 15 degC"));
    CHECK(begins(with(&RunConditions::water_out_c, 99.0), "cooling water out 99 degC is outside 0 to 93.7"));
    CHECK(begins(with(&RunConditions::ambient_c, 80.0), "temperature of the room 80 degC is outside -50 to 60 degC"));
    CHECK(begins(range_error([&] { stripping_duty(run, heated(0.0), {}); }), "heating 0 kW must be more than zero"));
    CHECK(begins(range_error([&] { stripping_duty(run, heated(20.0, 1.1), {}); }), "heat loss 110 % is outside 0 to 100 %"));
    CHECK(begins(range_error([&] { stripping_duty(run, heated(20.0, 0.0, -1.0), {}); }), "heat loss -1 W/K is below the lowest allowed, 0 W/K"));
    CHECK(begins(range_error([&] { stripping_duty(run, heated(20.0, 0.0, 0.0, -1.0), {}); }), "heat capacity of the still -1 kJ/K is below"));
    CHECK_THROWS_AS(stripping_duty(run, heated(20.0, 1.0), {}), SolveError);
    CHECK_THROWS_AS(stripping_duty(run, heated(2.0, 0.0, 25.0), {}), SolveError);
    CHECK_THROWS_AS(stripping_duty(Stripping{}, heated(20.0), {}), Error);
    for (const double bad : {not_a_number, infinity}) {
        CHECK_THROWS_AS(stripping_duty(run, heated(bad), {}), InputError);
        CHECK_THROWS_AS(stripping_duty(run, heated(20.0, bad), {}), InputError);
        CHECK_THROWS_AS(stripping_duty(run, heated(20.0, 0.0, bad), {}), InputError);
        CHECK_THROWS_AS(stripping_duty(run, heated(20.0, 0.0, 0.0, bad), {}), InputError);
        for (double RunConditions::*field :
             {&RunConditions::start_c, &RunConditions::ambient_c, &RunConditions::distillate_c, &RunConditions::water_in_c, &RunConditions::water_out_c}) {
            RunConditions at;
            at.*field = bad;
            CHECK_THROWS_AS(stripping_duty(run, heated(20.0), at), InputError);
        }
    }
}
