#pragma once
// Threads that start together, and a digest of results to compare bit for bit.

#include <atomic>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/core/threads.hpp>
#include <latch>
#include <string>
#include <type_traits>
#include <vector>

#include "catch.hpp"

namespace ferment_test {

inline constexpr std::size_t many_threads = 8;

/// What work(k) gives in each of so many threads, which begin at the same moment. It must not throw, and leaves CHECK to the caller: Catch2 counts in one
/// thread only.
template <class Work>
auto at_once(const std::size_t threads, const Work& work) {
    std::vector<std::decay_t<decltype(work(std::size_t{}))>> results(threads);
    std::latch all_here(static_cast<std::ptrdiff_t>(threads));
    std::atomic<std::size_t> next{0};
    {
        ferment::detail::joined_threads running;
        running.start(threads, [&] {
            const std::size_t k = next++;
            all_here.arrive_and_wait();
            results[k] = work(k);
        });
    }
    return results;
}

/// Numbers of a result, by their bits, so that NaN equals itself.
class Digest {
public:
    Digest& add(const double x) {
        bits_.push_back(std::bit_cast<std::uint64_t>(x));
        return *this;
    }
    Digest& add(const std::vector<double>& row) {
        for (const double x : row) add(x);
        return *this;
    }
    [[nodiscard]] std::size_t size() const { return bits_.size(); }
    friend bool operator==(const Digest&, const Digest&) = default;

private:
    std::vector<std::uint64_t> bits_{};
};

/// The message of the library's error that a call throws, empty where it throws none.
template <class F>
std::string told_by(const F& call) {
    try {
        call();
    } catch (const ferment::Error& error) {
        return error.what();
    }
    return "";
}

}  // namespace ferment_test
