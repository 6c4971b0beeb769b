// How fast the general formula can go on this processor: its loop alone, compiled for it, on arrays that fit the cache and on arrays that do not.
// Prints nanoseconds per element for both. Built and run by compare.py.
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <ferment/liquid/spirit.hpp>
#include <vector>

namespace {

double nanoseconds_per_element(const std::size_t n) {
    std::vector<double> p(n);
    std::vector<double> t(n);
    std::vector<double> rho(n);
    for (std::size_t i = 0; i < n; ++i) {
        p[i] = static_cast<double>(i % 997) / 997.0;
        t[i] = static_cast<double>(i % 401) / 10.0;
    }
    double best = 1e30;
    double sum = 0.0;
    for (int repeat = 0; repeat < 30; ++repeat) {
        const auto start = std::chrono::steady_clock::now();
        for (std::size_t i = 0; i < n; ++i) rho[i] = ferment::oiml_r22::density(p[i], t[i]);
        best = std::min(best, std::chrono::duration<double, std::nano>(std::chrono::steady_clock::now() - start).count());
        sum += rho[n / 2];
    }
    if (sum == 0.0) std::abort();  // so that the loop is not left out
    return best / static_cast<double>(n);
}

}  // namespace

int main() {
    std::printf("%.4f %.4f\n", nanoseconds_per_element(4096), nanoseconds_per_element(1'000'000));
}
