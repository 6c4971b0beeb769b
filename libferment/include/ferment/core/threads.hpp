#pragma once
// Threads that end with the scope they were started in.

#include <cstddef>
#include <thread>
#include <vector>

namespace ferment::detail {

/// Threads that are waited for, whatever happens.
class joined_threads {
public:
    joined_threads() = default;
    joined_threads(const joined_threads&) = delete;
    joined_threads& operator=(const joined_threads&) = delete;
    joined_threads(joined_threads&&) = delete;
    joined_threads& operator=(joined_threads&&) = delete;
    ~joined_threads() {
        for (std::thread& one : all_) one.join();
    }

    template <class F>
    void start(const std::size_t count, const F& f) {
        all_.reserve(count);
        for (std::size_t i = 0; i < count; ++i) all_.emplace_back(f);
    }

private:
    std::vector<std::thread> all_{};
};

}  // namespace ferment::detail
