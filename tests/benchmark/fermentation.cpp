// A no-cook fermentation: one course, an ensemble, a fit, a check.

#include <benchmark/benchmark.h>

#include <ferment/fermentation.hpp>
#include <ferment/mash/grain_table.hpp>
#include <vector>

namespace {

using namespace ferment;

constexpr double fortnight_h = 14.0 * hours_per_day;

Fermentation batch() {
    Bill bill;
    bill.add(grain("flaked barley"), 14.0 * kilogram).add(grain("flaked rye"), 4.0 * kilogram).add(grain("barley malt"), 1.5 * kilogram);
    const Potential plan = potential(bill, 72.0 * litre, 14.0 * degree_celsius, no_cook::assumptions());
    return Fermentation::of(bill, plan, {0.03, 1.0, 1.0}, {18.0, Ambient::day_night(18.0, 4.0, 15.0), {}});
}

std::vector<double> every_six_hours() {
    std::vector<double> hours;
    for (double hour = 0.0; hour <= fortnight_h; hour += 6.0) hours.push_back(hour);
    return hours;
}

std::vector<Reading> five_readings(const Fermentation& f) {
    std::vector<Reading> readings;
    for (const WashState& s : simulate(f, {24.0, 48.0, 72.0, 96.0, 120.0}, Belief{}.draw(1, 0)).at) {
        readings.push_back({s.time_h, measured{s.gravity, 0.0005}, measured{s.temperature_c, 0.5}, measured{s.co2_lost_kg, 0.05}, {}});
    }
    return readings;
}

void fortnight(benchmark::State& state) {
    const Fermentation f = batch();
    const std::vector<double> hours = every_six_hours();
    for (auto _ : state) benchmark::DoNotOptimize(simulate(f, hours));
}
void forecast_of_400(benchmark::State& state) {
    const Fermentation f = batch();
    const std::vector<double> hours = every_six_hours();
    for (auto _ : state) benchmark::DoNotOptimize(forecast(f, hours));
}
void fit_five_readings(benchmark::State& state) {
    const Fermentation f = batch();
    const std::vector<Reading> readings = five_readings(f);
    for (auto _ : state) benchmark::DoNotOptimize(fit(f, readings));
}
void check_five_readings(benchmark::State& state) {
    const Fermentation f = batch();
    const std::vector<Reading> readings = five_readings(f);
    for (auto _ : state) benchmark::DoNotOptimize(check(f, readings));
}

BENCHMARK(fortnight)->Unit(benchmark::kMicrosecond);
BENCHMARK(forecast_of_400)->Unit(benchmark::kMillisecond);
BENCHMARK(fit_five_readings)->Unit(benchmark::kMillisecond);
BENCHMARK(check_five_readings)->Unit(benchmark::kMillisecond);

}  // namespace
