// Cost of the liquid properties per element, forward and inverse, over arrays that fit the second-level cache.

#include <benchmark/benchmark.h>

#include <cstddef>
#include <ferment/instrument.hpp>
#include <ferment/liquid.hpp>
#include <ferment/strength.hpp>
#include <vector>

namespace {

using namespace ferment;

constexpr std::size_t elements = 4096;

std::vector<double> ramp(const double from, const double to) {
    std::vector<double> x(elements);
    for (std::size_t i = 0; i < elements; ++i) x[i] = from + (to - from) * static_cast<double>(i) / static_cast<double>(elements - 1);
    return x;
}

template <class F>
void over(benchmark::State& state, const std::vector<double>& x, const F& f) {
    std::vector<double> y(x.size());
    for (auto _ : state) {
        for (std::size_t i = 0; i < x.size(); ++i) y[i] = f(x[i]);
        benchmark::DoNotOptimize(y.data());
        benchmark::ClobberMemory();
    }
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(x.size()));
}

void water_density(benchmark::State& state) {
    over(state, ramp(0.0, 100.0), [](const double t) { return iapws_sr6::density(t); });
}
void spirit_density(benchmark::State& state) {
    over(state, ramp(0.0, 1.0), [](const double p) { return oiml_r22::density(p, 15.0); });
}
void spirit_strength_from_density(benchmark::State& state) {
    over(state, ramp(800.0, 998.0), [](const double rho) { return oiml_r22::abw_from_density(rho, 15.0); });
}
void plato_from_gravity(benchmark::State& state) {
    over(state, ramp(1.0, 1.13), [](const double sg) { return wort_gravity::extract(sg, gravity_frame{}); });
}
void hydrometer_in_wash(benchmark::State& state) {
    const Hydrometer hydrometer;
    over(state, ramp(0.995, 1.05), [&](const double sg) {
        return hydrometer.correct(sg, 24.0 * degree_celsius, SampleWash{SampleWash::known::strength, 0.06}).gravity.value();
    });
}
void density_balance_strength(benchmark::State& state) {
    over(state, ramp(0.998, 1.04), [](const double fg) { return density_balance::solve(1.060, fg, default_yield, gravity_frame{}).ethanol; });
}

BENCHMARK(water_density);
BENCHMARK(spirit_density);
BENCHMARK(spirit_strength_from_density);
BENCHMARK(plato_from_gravity);
BENCHMARK(hydrometer_in_wash);
BENCHMARK(density_balance_strength);

}  // namespace
