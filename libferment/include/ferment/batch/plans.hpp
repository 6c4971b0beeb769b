#pragma once
// Thousands of whole plans: the figures that matter of each, on all cores.

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstddef>
#include <exception>
#include <ferment/batch/plan.hpp>
#include <ferment/core/error.hpp>
#include <ferment/core/threads.hpp>
#include <ferment/still/cuts.hpp>
#include <functional>
#include <limits>
#include <mutex>
#include <optional>
#include <thread>
#include <type_traits>
#include <utility>
#include <vector>

namespace ferment {

/// The outcome of one plan in a line: volumes in L at 20 degC, strengths as volume fractions; all charges together.
struct PlanRow {
    static constexpr double none = std::numeric_limits<double>::quiet_NaN();

    double wash_l = none;  ///< strained off the grain
    double wash_abv = none;
    double stripping_charges = none;
    double low_wines_l = none;
    double low_wines_abv = none;
    double spirit_charges = none;
    double fore_shots_l = none;
    double heads_l = none;
    double hearts_l = none;  ///< as cut, before dilution
    double hearts_abv = none;
    double hearts_pure_alcohol_l = none;
    double tails_l = none;
    double bottled_l = none;  ///< at bottling strength
    double bottles = none;    ///< full ones
    double charges = none;    ///< of both stills
    double energy_kwh = none;
    double cooling_water_l = none;
    double total_h = none;
    double recovered_share = none;  ///< pure alcohol in the hearts, of what the yeast made and what was recycled
    double balance_error = none;    ///< see Plan

    PlanRow() = default;
    explicit PlanRow(const Plan& p)
        : wash_l(p.strained.volume_l()),
          wash_abv(p.strained.abv()),
          stripping_charges(static_cast<double>(p.stripping_charges.count)),
          low_wines_l(p.low_wines.volume_l()),
          low_wines_abv(p.low_wines.abv()),
          spirit_charges(static_cast<double>(p.spirit_charges.count)),
          fore_shots_l(p.fraction(cut_label::fore_shots).content.volume_l()),
          heads_l(p.fraction(cut_label::heads).content.volume_l()),
          hearts_l(p.fraction(cut_label::hearts).content.volume_l()),
          hearts_abv(p.fraction(cut_label::hearts).content.abv()),
          hearts_pure_alcohol_l(p.fraction(cut_label::hearts).content.pure_alcohol_l()),
          tails_l(p.fraction(cut_label::tails).content.volume_l()),
          bottled_l(value_in(p.dilution.volume_at_20c, litre)),
          bottles(static_cast<double>(p.bottling.full)),
          charges(static_cast<double>(p.totals.charges)),
          energy_kwh(p.totals.energy_kwh),
          cooling_water_l(p.totals.water_l),
          total_h(p.totals.total_h),
          recovered_share(hearts_pure_alcohol_l / (p.end_point.pure_alcohol_l.value() + p.recycled.pure_alcohol_l())),
          balance_error(p.balance_error()) {}
};

/// What is done with a request that has no plan: the errors of plan.
enum class no_plan {
    ends_all,  ///< no more plans are begun; the one with the smallest index is told
    is_nan,    ///< its row holds NaN
};

/// How many plans are worked out.
struct PlansOptions {
    no_plan on_error = no_plan::is_nan;
    unsigned threads = 0;  ///< 0: as many as the machine runs at once
    /// Called in the calling thread about ten times a second with how many are done; what it throws ends all.
    std::function<void(std::size_t)> progress{};
};

/// A request that had no plan.
struct PlanFailure {
    std::size_t index = 0;
    std::exception_ptr error{};
};

namespace detail {

/// Shared by the threads of one call.
class plans_work {
public:
    plans_work(const std::size_t count, const no_plan on_error) : count_(count), on_error_(on_error) {}

    /// Plans one request after the other until none is left.
    template <class RequestAt, class Take, class Between>
    void run(const RequestAt& request_at, const Take& take, const Between& between) {
        PlanTables tables;
        try {
            for (std::size_t i = next_++; i < end_; i = next_++) {
                PlanRow row;
                try {
                    row = PlanRow(plan(request_at(i), tables));
                } catch (const Error&) {
                    note({i, std::current_exception()});
                }
                take(i, std::as_const(row));
                ++done_;
                between();
            }
        } catch (...) {  // of memory, of take or of progress: nothing to do with this request
            stop(std::current_exception());
        }
    }

    [[nodiscard]] std::size_t done() const { return done_; }
    void stop(const std::exception_ptr& why) {
        const std::scoped_lock lock(told_);
        end_ = 0;
        if (!broken_) broken_ = why;
    }
    [[nodiscard]] const std::exception_ptr& broken() const { return broken_; }
    [[nodiscard]] const std::optional<PlanFailure>& first() const { return first_; }

private:
    /// The failure with the smallest index is kept. Indices are handed out in order, and those in front of a failure are always planned.
    void note(PlanFailure failure) {
        const std::scoped_lock lock(told_);
        if (on_error_ == no_plan::ends_all && failure.index < end_) end_ = failure.index;
        if (!first_ || failure.index < first_->index) first_ = std::move(failure);
    }

    std::size_t count_;
    no_plan on_error_;
    std::atomic<std::size_t> next_{0};
    std::atomic<std::size_t> end_{count_};
    std::atomic<std::size_t> done_{0};
    std::mutex told_{};
    std::optional<PlanFailure> first_{};
    std::exception_ptr broken_{};
};

}  // namespace detail

/// Many plans, shared out among threads.
///   count        how many
///   request_at   callable size_t -> PlanRequest, by value or by reference; called from several threads at once. An Error of it counts as one of plan
///   take         callable (size_t, const PlanRow&); called from several threads at once, for every index once
///   options      threads, what is done about errors, progress
///   ->           the request with the smallest index that has no plan; nothing where all have one
/// Rows are those of plan one by one, bit for bit, whatever the number of threads, and so is the failure. With no_plan::ends_all rows behind the failure
/// may be missing. No state outlives the call. Throws what `take` and `progress` throw, and std::system_error where no thread can be started.
template <class RequestAt, class Take>
requires std::is_invocable_v<const RequestAt&, std::size_t> std::optional<PlanFailure> plans(const std::size_t count, const RequestAt& request_at,
                                                                                             const Take& take, const PlansOptions& options = {}) {
    using clock = std::chrono::steady_clock;
    constexpr std::chrono::milliseconds pause{100};
    const std::size_t wanted = options.threads > 0 ? options.threads : std::max(1U, std::thread::hardware_concurrency());
    detail::plans_work work(count, options.on_error);
    {
        detail::joined_threads helpers;
        const std::size_t threads = std::min(wanted, count);
        try {
            helpers.start(threads > 0 ? threads - 1 : 0, [&] { work.run(request_at, take, [] {}); });
        } catch (...) {
            work.stop(std::current_exception());
        }
        clock::time_point told = clock::now();
        work.run(request_at, take, [&] {  // the calling thread works, too
            if (!options.progress || clock::now() - told < pause) return;
            options.progress(work.done());
            told = clock::now();
        });
    }
    if (work.broken()) std::rethrow_exception(work.broken());
    if (options.progress) options.progress(work.done());
    return work.first();
}

/// Rows of many plans, in the order of their requests.
struct PlanRows {
    std::vector<PlanRow> rows{};
    std::optional<PlanFailure> first_failure{};
};

/// The same for requests that are at hand.
inline PlanRows plans(const std::vector<PlanRequest>& requests, const PlansOptions& options = {}) {
    PlanRows out;
    out.rows.resize(requests.size());
    out.first_failure = plans(
        requests.size(), [&](const std::size_t i) -> const PlanRequest& { return requests[i]; },
        [&](const std::size_t i, const PlanRow& row) { out.rows[i] = row; }, options);
    return out;
}

}  // namespace ferment
