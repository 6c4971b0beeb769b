#pragma once
// Many courses side by side: each lane follows a course of its own with steps of its own, and takes the next member when it has come to the end.
// A course does not depend on its lane, its neighbours or the number of threads.

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <exception>
#include <ferment/core/error.hpp>
#include <ferment/core/straight.hpp>
#include <ferment/core/threads.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <functional>
#include <limits>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

// Tells the compiler that iterations of the next loop do not touch each other's data. clang++ finds out by itself, and complains of the hint where it
// does not optimise.
#if defined(__GNUC__) && !defined(__clang__)
#define FERMENT_LANE_LOOP _Pragma("GCC ivdep")
#else
#define FERMENT_LANE_LOOP
#endif

namespace ferment::detail {

inline constexpr std::size_t lane_count = 16;
using LaneRow = std::array<double, lane_count>;
using LaneStates = std::array<LaneRow, state::count>;

/// What the courses of an ensemble have in common.
struct LaneBatch {
    Conditions conditions;
    double nutrients = 1.0;
    double heat_capacity = 0.0;
    double sunshine_per_kg = 0.0;
    double mash_kg = 0.0;
    ode::Tolerance tolerance;

    static LaneBatch of(const Fermentation& f, const ode::Tolerance& tolerance) {
        const auto c = fermentation_course<double>::of(f, {});
        return {f.conditions, c.nutrients, c.heat_capacity, c.sunshine_per_kg, f.mash_kg, tolerance};
    }
};

/// The numbers of a course that differ between members, in one row; see course_of.
inline constexpr std::size_t course_numbers = kinetic::count + 10;
using CourseNumbers = std::array<double, course_numbers>;

inline CourseNumbers numbers_of(const fermentation_course<double>& c) {
    CourseNumbers n{};
    std::copy(c.p.begin(), c.p.end(), n.begin());
    const std::array<double, course_numbers - kinetic::count> rest{c.in.starch, c.in.sugars,  c.in.hexose_of_sugars, c.in.moisture, c.in.rest,
                                                                   c.water,     c.slow_start, c.fast_start,          c.heat_loss,   c.dose};
    std::copy(rest.begin(), rest.end(), n.begin() + kinetic::count);
    return n;
}

/// And back, with arithmetic that a loop can be vectorised over.
///   number   callable std::size_t -> double
template <class Number, std::size_t... I>
fermentation_course<num::straight> course_of(const LaneBatch& b, const Number& number, std::index_sequence<I...> /*parameters*/) {
    constexpr std::size_t n = kinetic::count;
    fermentation_course<num::straight> c;
    ((c.p[I] = number(I)), ...);
    c.in = {number(n), number(n + 1), number(n + 2), number(n + 3), number(n + 4)};
    c.water = number(n + 5);
    c.slow_start = number(n + 6);
    c.fast_start = number(n + 7);
    c.heat_loss = number(n + 8);
    c.dose = number(n + 9);
    c.nutrients = b.nutrients;
    c.heat_capacity = b.heat_capacity;
    c.sunshine_per_kg = b.sunshine_per_kg;
    return c;
}
using every_parameter = std::make_index_sequence<kinetic::count>;

using StraightState = std::array<num::straight, state::count>;

/// Dormand-Prince 5(4): Dormand, Prince 1980, J. Comput. Appl. Math. 6:19; weights of the dense output: Hairer, Norsett, Wanner 1993, II.6.
struct dormand_prince {
    static constexpr std::size_t stages = 7;
    static constexpr std::array<double, stages> at{0.0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1.0, 1.0};
    static constexpr std::array<std::array<double, stages - 1>, stages> a{{
        {},
        {1.0 / 5},
        {3.0 / 40, 9.0 / 40},
        {44.0 / 45, -56.0 / 15, 32.0 / 9},
        {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
        {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
        {35.0 / 384, 0.0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84},
    }};
    static constexpr std::array<double, stages> error{71.0 / 57600, 0.0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40};
    static constexpr std::array<double, stages> dense{
        -12715105075.0 / 11282082432, 0.0, 87487479700.0 / 32700410799, -10690763975.0 / 1880347072, 701980252875.0 / 199316789632, -1453857185.0 / 822651844,
        69997945.0 / 29380423};
    // Step control.
    static constexpr double safety = 0.9, least_factor = 0.2, greatest_factor = 5.0, exponent = -1.0 / 5, first_step_h = 1e-3, event_resolution_h = 1e-6;
};

/// The courses under way.
struct alignas(64) CourseLanes {
    std::array<LaneRow, course_numbers> course{};
    LaneRow t{}, h{};
    LaneStates y{};
    std::array<LaneStates, dormand_prince::stages> k{};
    LaneStates trial{};  ///< the states of a stage; of the last one: at the end of the step
    LaneRow air{}, sun{}, error{}, done{};
    LaneRow share{};      ///< where to look within the step
    LaneStates within{};  ///< what is there
};

using every_state = std::make_index_sequence<state::count>;

/// The slopes of every lane at the states of `trial`.
///   Daily, Sunny   whether the air goes by the clock and the sun shines; else `air` and `sun` hold them
///   share          of the step, where the states are
template <bool Daily, bool Sunny, std::size_t... I>
void lane_slopes(const LaneBatch& b, CourseLanes& s, LaneStates& slope, const double share, std::index_sequence<I...> /*states*/) {
    FERMENT_LANE_LOOP
    for (std::size_t l = 0; l < lane_count; ++l) {
        const fermentation_course<num::straight> c = course_of(
            b, [&](const std::size_t i) { return s.course[i][l]; }, every_parameter{});
        const StraightState now{num::straight(s.trial[I][l])...};
        StraightState rate;
        const num::straight hour = s.t[l] + share * s.h[l];
        num::straight air = s.air[l], sun = s.sun[l];
        if constexpr (Daily) air = b.conditions.ambient.daily(hour);
        if constexpr (Sunny) sun = vessel_heat::daylight_w(b.conditions.vessel, hour);
        c.slopes(now, rate, air, sun);
        ((slope[I][l] = rate[I].v), ...);
    }
}

/// All stages of a step but the first, whose slopes are those at the end of the last step. Leaves the end of the step in `trial`.
template <bool Daily, bool Sunny>
void lane_stages(const LaneBatch& b, CourseLanes& s) {
    using rk = dormand_prince;
    for (std::size_t stage = 1; stage < rk::stages; ++stage) {
        const std::array<double, rk::stages - 1>& a = rk::a[stage];
        for (std::size_t i = 0; i < state::count; ++i) {
            LaneRow sum;
            FERMENT_LANE_LOOP
            for (std::size_t l = 0; l < lane_count; ++l) sum[l] = a[0] * s.k[0][i][l];
            for (std::size_t j = 1; j < stage; ++j) {
                FERMENT_LANE_LOOP
                for (std::size_t l = 0; l < lane_count; ++l) sum[l] += a[j] * s.k[j][i][l];
            }
            FERMENT_LANE_LOOP
            for (std::size_t l = 0; l < lane_count; ++l) s.trial[i][l] = s.y[i][l] + s.h[l] * sum[l];
        }
        if (b.conditions.ambient.is_logged()) {
            for (std::size_t l = 0; l < lane_count; ++l) s.air[l] = b.conditions.ambient.at(s.t[l] + rk::at[stage] * s.h[l]);
        }
        lane_slopes<Daily, Sunny>(b, s, s.k[stage], rk::at[stage], every_state{});
    }
}

/// Tries a step in every lane. Leaves its end in `trial`, the error in units of the tolerance, and whether the wash is done there.
inline void try_step(const LaneBatch& b, CourseLanes& s) {
    using rk = dormand_prince;
    const bool daily = !b.conditions.ambient.is_logged() && !b.conditions.ambient.steady();
    const bool sunny = b.conditions.vessel.sunshine_w != 0.0;
    if (daily && sunny) {
        lane_stages<true, true>(b, s);
    } else if (daily) {
        lane_stages<true, false>(b, s);
    } else if (sunny) {
        lane_stages<false, true>(b, s);
    } else {
        lane_stages<false, false>(b, s);
    }
    s.error.fill(0.0);
    const double relative = b.tolerance.relative, absolute = b.tolerance.absolute;
    for (std::size_t i = 0; i < state::count; ++i) {
        FERMENT_LANE_LOOP
        for (std::size_t l = 0; l < lane_count; ++l) {
            double off = s.h[l] * (rk::error[0] * s.k[0][i][l] + rk::error[2] * s.k[2][i][l] + rk::error[3] * s.k[3][i][l] + rk::error[4] * s.k[4][i][l] +
                                   rk::error[5] * s.k[5][i][l] + rk::error[6] * s.k[6][i][l]);
            off = off < 0.0 ? -off : off;
            const double before = s.y[i][l] < 0.0 ? -s.y[i][l] : s.y[i][l];
            const double after = s.trial[i][l] < 0.0 ? -s.trial[i][l] : s.trial[i][l];
            off = off / (absolute + relative * (before > after ? before : after));
            s.error[l] = off <= s.error[l] ? s.error[l] : off;  // what is no number stays
        }
    }
    FERMENT_LANE_LOOP
    for (std::size_t l = 0; l < lane_count; ++l) {
        const fermentation_course<num::straight> c = course_of(
            b, [&](const std::size_t i) { return s.course[i][l]; }, every_parameter{});
        StraightState end;
        end[state::slow_starch] = s.trial[state::slow_starch][l];
        end[state::fast_starch] = s.trial[state::fast_starch][l];
        end[state::sugar] = s.trial[state::sugar][l];
        s.done[l] = c.done(end) ? 1.0 : 0.0;
    }
}

/// The states of every lane at a share of its step.
inline void within_step(CourseLanes& s) {
    using rk = dormand_prince;
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-member-init): filled before it is read
    std::array<LaneRow, rk::stages> w;
    FERMENT_LANE_LOOP
    for (std::size_t l = 0; l < lane_count; ++l) {
        const double share = s.share[l], left = 1.0 - share;
        // y0 + share (D + left (B + share (C + left R))) with D the step, B = h k1 - D, C = D - h k7 - B, R the dense term.
        for (std::size_t j = 0; j < rk::stages; ++j) {
            const double d = j + 1 < rk::stages ? rk::a[rk::stages - 1][j] : 0.0;
            const double first = (j == 0 ? 1.0 : 0.0) - d;
            const double last = d - (j + 1 == rk::stages ? 1.0 : 0.0) - first;
            w[j][l] = s.h[l] * share * (d + left * (first + share * (last + left * rk::dense[j])));
        }
    }
    for (std::size_t i = 0; i < state::count; ++i) {
        FERMENT_LANE_LOOP
        for (std::size_t l = 0; l < lane_count; ++l) {
            s.within[i][l] = s.y[i][l] + w[0][l] * s.k[0][i][l] + w[2][l] * s.k[2][i][l] + w[3][l] * s.k[3][i][l] + w[4][l] * s.k[4][i][l] +
                             w[5][l] * s.k[5][i][l] + w[6][l] * s.k[6][i][l];
        }
    }
}

template <std::size_t... I>
void next_step(const LaneBatch& b, CourseLanes& s, std::index_sequence<I...> /*states*/) {
    using rk = dormand_prince;
    constexpr double no_error = 1e-12;
    const double longest = b.tolerance.longest_step_h;
    FERMENT_LANE_LOOP
    for (std::size_t l = 0; l < lane_count; ++l) {
        const double h = s.h[l];
        const bool good = s.error[l] <= 1.0;
        ((s.y[I][l] = good ? s.trial[I][l] : s.y[I][l]), ...);
        ((s.k[0][I][l] = good ? s.k[rk::stages - 1][I][l] : s.k[0][I][l]), ...);
        const double error = s.error[l] < no_error ? no_error : s.error[l];
        double factor = rk::safety * pow(num::straight(error), num::straight(rk::exponent)).v;
        factor = factor > rk::least_factor ? factor : rk::least_factor;  // what is no number as well
        factor = factor < rk::greatest_factor ? factor : rk::greatest_factor;
        s.t[l] = good ? s.t[l] + h : s.t[l];
        s.h[l] = h * factor < longest ? h * factor : longest;
    }
}
/// Goes to the end of the step where its error allows, and sets the next step everywhere.
inline void take_step(const LaneBatch& b, CourseLanes& s) {
    next_step(b, s, every_state{});
}

/// What can be measured of one member at all times, a row for each quantity; see Measurable.
struct MemberRows {
    static constexpr std::size_t quantities = 7;
    std::size_t stride = 0;     ///< times, rounded up so that the loop has no remainder
    std::vector<double> state;  ///< a row of `stride` for each
    std::vector<double> value;  ///< a row of `stride` for each
    double done_h = 0.0;        ///< infinite where it is not done by the last time

    explicit MemberRows(const std::size_t times)
        : stride((times + lane_count - 1) / lane_count * lane_count), state(stride * state::count, 1.0), value(stride * quantities) {}
};

template <std::size_t... I>
void measure_states(const LaneBatch& b, const CourseNumbers& numbers, const double* const at, double* const to, const std::size_t stride,
                    std::index_sequence<I...> /*states*/) {
    const double mash_kg = b.mash_kg;
    for (std::size_t from = 0; from < stride; from += lane_count) {
        FERMENT_LANE_LOOP
        for (std::size_t i = 0; i < lane_count; ++i) {
            const fermentation_course<num::straight> c = course_of(
                b, [&](const std::size_t n) { return numbers[n]; }, every_parameter{});
            const StraightState y{num::straight(at[I * stride + from + i])...};
            const Measurable<num::straight> m = measurable(c, y, mash_kg);
            to[0 * stride + from + i] = m.gravity.v;
            to[1 * stride + from + i] = m.abv.v;
            to[2 * stride + from + i] = m.temperature_c.v;
            to[3 * stride + from + i] = m.conversion.v;
            to[4 * stride + from + i] = m.co2_lost_kg.v;
            to[5 * stride + from + i] = m.co2_l_per_h.v;
            to[6 * stride + from + i] = m.open_starch.v;
        }
    }
}
inline void measure(const LaneBatch& b, const CourseNumbers& numbers, MemberRows& rows) {
    measure_states(b, numbers, rows.state.data(), rows.value.data(), rows.stride, every_state{});
}

}  // namespace ferment::detail

namespace ferment {

/// The loops of an ensemble. Those here are compiled as everything around them; who has them compiled for a wider instruction set passes them here.
struct EnsembleCode {
    void (*try_step)(const detail::LaneBatch&, detail::CourseLanes&) = &detail::try_step;
    void (*within_step)(detail::CourseLanes&) = &detail::within_step;
    void (*take_step)(const detail::LaneBatch&, detail::CourseLanes&) = &detail::take_step;
    void (*measure)(const detail::LaneBatch&, const detail::CourseNumbers&, detail::MemberRows&) = &detail::measure;
};

/// How an ensemble is worked out. Nothing here changes its result, but for the last digits between instruction sets.
struct EnsembleOptions {
    unsigned threads = 0;             ///< 0: as many as the machine runs at once, as far as it is worth it
    std::function<void()> between{};  ///< called in the calling thread about ten times a second; what it throws ends all
    EnsembleCode code{};
};

namespace detail {

/// Members that wait for a lane, and the first that failed.
class WaitingMembers {
public:
    WaitingMembers(const std::size_t first, const std::size_t end) : next_(first), end_(end) {}

    /// False when none is left.
    bool take(std::size_t& member) {
        member = next_++;
        return member < end_;
    }
    /// Those behind the failure are not begun; those before it are always followed, so that the first failure is always the same.
    void failed(const std::size_t member, std::exception_ptr why) {
        const std::scoped_lock lock(told_);
        if (why_ && first_ <= member) return;
        first_ = member;
        why_ = std::move(why);
        end_ = std::min(end_.load(), member);
    }
    void stop(const std::exception_ptr& why) { failed(0, why); }
    void rethrow() const {
        if (why_) std::rethrow_exception(why_);
    }

private:
    std::atomic<std::size_t> next_;
    std::atomic<std::size_t> end_;
    std::mutex told_{};
    std::size_t first_ = 0;
    std::exception_ptr why_{};
};

/// One thread's lanes.
template <class CourseAt, class Take>
class LaneWorker {
public:
    LaneWorker(const LaneBatch& batch, const std::vector<double>& hours, const EnsembleCode& code, WaitingMembers& waiting, const CourseAt& course_at,
               Take take)
        : batch_(batch), hours_(hours), code_(code), waiting_(waiting), course_at_(course_at), take_(std::move(take)), rows_(hours.size()) {
        lanes_.air.fill(batch.conditions.ambient.at(0.0));
        for (Follower& follower : followers_) follower.state.resize(rows_.state.size(), 1.0);
    }

    template <class Between>
    void run(const Between& between) {
        for (std::size_t l = 0; l < lane_count; ++l) begin(l);
        while (busy_ > 0) {
            code_.try_step(batch_, lanes_);
            look();
            code_.take_step(batch_, lanes_);
            for (std::size_t l = 0; l < lane_count && ended_ > 0; ++l) {
                if (!followers_[l].ended) continue;
                --ended_;
                begin(l);
            }
            between();
        }
        take_.finish();
    }

private:
    /// What one lane does.
    struct Follower {
        bool busy = false;
        bool ended = false;
        std::size_t member = 0;
        std::size_t steps = 0;
        std::size_t output = 0;  // the next of the times
        double done_h = 0.0;
        CourseNumbers numbers{};
        std::vector<double> state{};
    };

    /// Gives the lane its next member, or lets it rest.
    void begin(const std::size_t l) {
        Follower& now = followers_[l];
        if (now.busy) --busy_;
        now.busy = now.ended = false;
        lanes_.h[l] = 0.0;
        while (waiting_.take(now.member)) {
            try {
                const fermentation_course<double> c = course_at_(now.member);
                std::array<double, state::count> y{}, slope{};
                c.start(y);
                c(y, slope, 0.0);
                now.numbers = numbers_of(c);
                for (std::size_t i = 0; i < course_numbers; ++i) lanes_.course[i][l] = now.numbers[i];
                for (std::size_t i = 0; i < state::count; ++i) {
                    lanes_.y[i][l] = y[i];
                    lanes_.k[0][i][l] = slope[i];
                }
                lanes_.t[l] = 0.0;
                lanes_.h[l] = dormand_prince::first_step_h;
                now.steps = now.output = 0;
                now.done_h = c.done(y) ? 0.0 : std::numeric_limits<double>::infinity();
                while (now.output < hours_.size() && hours_[now.output] <= 0.0) put(now, y);
                now.busy = true;
                ++busy_;
                if (now.output == hours_.size()) end(l);
                return;
            } catch (const Error&) {
                waiting_.failed(now.member, std::current_exception());
            }
        }
    }

    void put(Follower& now, const std::array<double, state::count>& y) {
        for (std::size_t i = 0; i < state::count; ++i) now.state[i * rows_.stride + now.output] = y[i];
        ++now.output;
    }

    /// After a step was tried: what there is to see of it.
    void look() {
        std::array<std::size_t, lane_count> waiting{};
        std::size_t count = 0;
        for (std::size_t l = 0; l < lane_count; ++l) {
            Follower& now = followers_[l];
            if (!now.busy || now.ended) continue;
            if (++now.steps > batch_.tolerance.most_steps) fail(l);
            if (!(lanes_.error[l] <= 1.0)) continue;
            if (lanes_.done[l] > 0.0 && std::isinf(now.done_h)) now.done_h = lanes_.t[l] + lanes_.h[l] * done_share(l);
            if (hours_[now.output] <= lanes_.t[l] + lanes_.h[l]) waiting[count++] = l;
        }
        while (count > 0) {
            for (std::size_t n = 0; n < count; ++n) {
                const std::size_t l = waiting[n];
                lanes_.share[l] = (hours_[followers_[l].output] - lanes_.t[l]) / lanes_.h[l];
            }
            code_.within_step(lanes_);
            std::size_t left = 0;
            for (std::size_t n = 0; n < count; ++n) {
                const std::size_t l = waiting[n];
                Follower& now = followers_[l];
                for (std::size_t i = 0; i < state::count; ++i) now.state[i * rows_.stride + now.output] = lanes_.within[i][l];
                if (++now.output == hours_.size()) {
                    end(l);
                } else if (hours_[now.output] <= lanes_.t[l] + lanes_.h[l]) {
                    waiting[left++] = l;
                }
            }
            count = left;
        }
    }

    /// The share of the step at which the wash is done, which it is at its end.
    [[nodiscard]] double done_share(const std::size_t l) const {
        using rk = dormand_prince;
        const fermentation_course<num::straight> c = course_of(
            batch_, [&](const std::size_t i) { return followers_[l].numbers[i]; }, every_parameter{});
        // The polynomials of within_step, of those states that "done" depends on.
        constexpr std::array<state::index, 3> needed{state::slow_starch, state::fast_starch, state::sugar};
        std::array<double, needed.size()> start{}, d{}, first{}, last{}, dense{};
        for (std::size_t n = 0; n < needed.size(); ++n) {
            const std::size_t i = needed[n];
            start[n] = lanes_.y[i][l];
            for (std::size_t j = 0; j < rk::stages; ++j) {
                const double k = lanes_.h[l] * lanes_.k[j][i][l];
                if (j + 1 < rk::stages) d[n] += rk::a[rk::stages - 1][j] * k;
                dense[n] += rk::dense[j] * k;
            }
            first[n] = lanes_.h[l] * lanes_.k[0][i][l] - d[n];
            last[n] = d[n] - lanes_.h[l] * lanes_.k[rk::stages - 1][i][l] - first[n];
        }
        double before = 0.0, after = 1.0;
        StraightState at{};
        while ((after - before) * lanes_.h[l] > rk::event_resolution_h) {
            const double share = 0.5 * (before + after), left = 1.0 - share;
            for (std::size_t n = 0; n < needed.size(); ++n) {
                at[needed[n]] = start[n] + share * (d[n] + left * (first[n] + share * (last[n] + left * dense[n])));
            }
            (c.done(at) ? after : before) = share;
        }
        return after;
    }

    void end(const std::size_t l) {
        Follower& now = followers_[l];
        now.ended = true;
        ++ended_;
        rows_.state.swap(now.state);
        rows_.done_h = now.done_h > hours_.back() ? std::numeric_limits<double>::infinity() : now.done_h;
        code_.measure(batch_, now.numbers, rows_);
        take_(now.member, std::as_const(rows_));
    }

    void fail(const std::size_t l) {
        Follower& now = followers_[l];
        now.ended = true;
        ++ended_;
        const std::string where = format_quantity(lanes_.t[l], "h");
        waiting_.failed(now.member, std::make_exception_ptr(SolveError("the course of the fermentation could not be followed past " + where)));
    }

    const LaneBatch& batch_;
    const std::vector<double>& hours_;
    const EnsembleCode& code_;
    WaitingMembers& waiting_;
    const CourseAt& course_at_;
    Take take_;
    MemberRows rows_;
    CourseLanes lanes_{};
    std::array<Follower, lane_count> followers_{};
    std::size_t busy_ = 0;
    std::size_t ended_ = 0;
};

/// How many threads are worth starting.
inline std::size_t ensemble_threads(const unsigned wanted, const std::size_t members) {
    constexpr std::size_t worth_a_thread = 4 * lane_count;
    const std::size_t most = wanted > 0 ? wanted : std::max(1U, std::thread::hardware_concurrency());
    return std::clamp<std::size_t>(members / worth_a_thread, 1, most);
}

/// Runs work(first) in several threads, once in each; the calling one is the first.
template <class Work>
void in_threads(const std::size_t threads, WaitingMembers& waiting, const Work& work) {
    const auto guarded = [&](const bool first) {
        try {
            work(first);
        } catch (...) {
            waiting.stop(std::current_exception());
        }
    };
    {
        joined_threads helpers;
        try {
            helpers.start(threads - 1, [&] { guarded(false); });
        } catch (...) {
            waiting.stop(std::current_exception());
        }
        guarded(true);
    }
    waiting.rethrow();
}

/// Follows the members [first, end) of an ensemble.
///   course_at   callable std::size_t -> fermentation_course<double>, the course of a member; called from several threads at once
///   sink        callable () -> Take, for each thread; Take is called with (member, const MemberRows&), and its finish() at the end
/// Throws what course_at throws and SolveError; of several members the first.
template <class CourseAt, class Sink>
void follow_members(const LaneBatch& batch, const std::vector<double>& hours, const std::size_t first, const std::size_t end, const CourseAt& course_at,
                    const EnsembleOptions& options, const Sink& sink) {
    using clock = std::chrono::steady_clock;
    constexpr std::chrono::milliseconds pause{100};
    WaitingMembers waiting(first, end);
    in_threads(ensemble_threads(options.threads, end - first), waiting, [&](const bool calling) {
        LaneWorker worker(batch, hours, options.code, waiting, course_at, sink());
        clock::time_point told = clock::now();
        worker.run([&] {
            if (!calling || !options.between || clock::now() - told < pause) return;
            options.between();
            told = clock::now();
        });
    });
}

}  // namespace detail
}  // namespace ferment
