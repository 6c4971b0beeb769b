#pragma once
// Numbers that carry their doubt. An Uncertain is a value with its first-order sensitivity to every independent input that went into it, so
// that results which share an input are correlated exactly: x - x is zero without doubt, and x + x doubts twice as much as x.

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <limits>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace ferment {

/// What one input contributes to the standard uncertainty of a result: the derivative times the standard uncertainty of the input, with its
/// sign. The standard uncertainty of the result is the root of the sum of their squares.
struct contribution {
    std::string name;
    double amount;
};

/// A scalar with first-order uncertainty (GUM, JCGM 100:2008, section 5), for use as T in any kernel of this library.
/// A plain number converts to an Uncertain without doubt. Comparisons look at the value alone.
class Uncertain {
public:
    Uncertain() = default;
    Uncertain(const double value) : value_(value) {}  // NOLINT: implicit, so that kernels can mix coefficients and Uncertain

    /// A new independent input.
    ///   value                  any number; NaN goes through
    ///   standard_uncertainty   in the unit of the value, >= 0; NaN goes through
    ///   name                   how the budget calls it
    /// Throws InputError for a negative or infinite standard uncertainty. Two calls make two independent inputs, whatever their names.
    static Uncertain input(const double value, const double standard_uncertainty, std::string name) {
        if (standard_uncertainty < 0.0 || std::isinf(standard_uncertainty)) {
            throw InputError("standard uncertainty " + format_number(standard_uncertainty) + " of " + name + " must be a finite number, zero or more");
        }
        Uncertain x(value);
        if (standard_uncertainty != 0.0) {
            static std::atomic<std::uint64_t> next_id{0};
            x.terms_.push_back({next_id++, std::make_shared<const std::string>(std::move(name)), standard_uncertainty});
        }
        return x;
    }

    [[nodiscard]] double value() const { return value_; }

    /// Combined standard uncertainty, GUM eq. (10).
    [[nodiscard]] double standard_uncertainty() const {
        double sum = 0.0;
        for (const term& t : terms_) {
            sum += t.amount * t.amount;
        }
        return std::sqrt(sum);
    }

    /// Every input with what it contributes, the largest first.
    [[nodiscard]] std::vector<contribution> budget() const {
        std::vector<contribution> list;
        list.reserve(terms_.size());
        for (const term& t : terms_) {
            if (t.amount != 0.0) {
                list.push_back({*t.name, t.amount});
            }
        }
        std::stable_sort(list.begin(), list.end(), [](const contribution& a, const contribution& b) { return std::abs(a.amount) > std::abs(b.amount); });
        return list;
    }

    /// Covariance of two results through the inputs they share, GUM eq. (F.2).
    friend double covariance(const Uncertain& x, const Uncertain& y) {
        double sum = 0.0;
        auto b = y.terms_.begin();
        for (const term& a : x.terms_) {
            while (b != y.terms_.end() && b->id < a.id) {
                ++b;
            }
            if (b != y.terms_.end() && b->id == a.id) {
                sum += a.amount * b->amount;
            }
        }
        return sum;
    }

    friend double value_of(const Uncertain& x) { return x.value_; }

    // The chain rule, once: value f(x, y) with the two partial derivatives.
    friend Uncertain operator+(const Uncertain& x, const Uncertain& y) { return combine(x.value_ + y.value_, x, 1.0, y, 1.0); }
    friend Uncertain operator-(const Uncertain& x, const Uncertain& y) { return combine(x.value_ - y.value_, x, 1.0, y, -1.0); }
    friend Uncertain operator*(const Uncertain& x, const Uncertain& y) { return combine(x.value_ * y.value_, x, y.value_, y, x.value_); }
    friend Uncertain operator/(const Uncertain& x, const Uncertain& y) {
        const double ratio = x.value_ / y.value_;
        return combine(ratio, x, 1.0 / y.value_, y, -ratio / y.value_);
    }
    friend Uncertain operator-(const Uncertain& x) { return scaled(-x.value_, x, -1.0); }
    friend Uncertain operator+(const Uncertain& x) { return x; }
    Uncertain& operator+=(const Uncertain& y) { return *this = *this + y; }
    Uncertain& operator-=(const Uncertain& y) { return *this = *this - y; }
    Uncertain& operator*=(const Uncertain& y) { return *this = *this * y; }
    Uncertain& operator/=(const Uncertain& y) { return *this = *this / y; }

    friend Uncertain exp(const Uncertain& x) {
        const double y = std::exp(x.value_);
        return scaled(y, x, y);
    }
    friend Uncertain log(const Uncertain& x) { return scaled(std::log(x.value_), x, 1.0 / x.value_); }
    friend Uncertain sqrt(const Uncertain& x) {
        const double y = std::sqrt(x.value_);
        return scaled(y, x, 0.5 / y);
    }
    friend Uncertain abs(const Uncertain& x) { return x.value_ < 0.0 ? -x : x; }
    friend Uncertain pow(const Uncertain& x, const double n) { return scaled(std::pow(x.value_, n), x, n * std::pow(x.value_, n - 1.0)); }
    friend Uncertain pow(const Uncertain& x, const Uncertain& n) {
        const double y = std::pow(x.value_, n.value_);
        return combine(y, x, n.value_ * std::pow(x.value_, n.value_ - 1.0), n, y * std::log(x.value_));
    }

    friend bool operator==(const Uncertain& x, const Uncertain& y) { return x.value_ == y.value_; }
    friend bool operator!=(const Uncertain& x, const Uncertain& y) { return x.value_ != y.value_; }
    friend bool operator<(const Uncertain& x, const Uncertain& y) { return x.value_ < y.value_; }
    friend bool operator<=(const Uncertain& x, const Uncertain& y) { return x.value_ <= y.value_; }
    friend bool operator>(const Uncertain& x, const Uncertain& y) { return x.value_ > y.value_; }
    friend bool operator>=(const Uncertain& x, const Uncertain& y) { return x.value_ >= y.value_; }

private:
    struct term {
        std::uint64_t id;
        std::shared_ptr<const std::string> name;
        double amount;
    };

    static Uncertain scaled(const double value, const Uncertain& x, const double slope) {
        Uncertain r(value);
        if (slope == 0.0) return r;
        r.terms_ = x.terms_;
        for (term& t : r.terms_) {
            t.amount *= slope;
        }
        return r;
    }

    /// Both term lists are sorted by id: a merge, in which equal ids add up and what cancels exactly goes away.
    static Uncertain combine(const double value, const Uncertain& x, const double slope_x, const Uncertain& y, const double slope_y) {
        if (y.terms_.empty()) return scaled(value, x, slope_x);
        if (x.terms_.empty()) return scaled(value, y, slope_y);
        Uncertain r(value);
        r.terms_.reserve(x.terms_.size() + y.terms_.size());
        auto a = x.terms_.begin();
        auto b = y.terms_.begin();
        while (a != x.terms_.end() || b != y.terms_.end()) {
            if (b == y.terms_.end() || (a != x.terms_.end() && a->id < b->id)) {
                r.terms_.push_back({a->id, a->name, slope_x * a->amount});
                ++a;
            } else if (a == x.terms_.end() || b->id < a->id) {
                r.terms_.push_back({b->id, b->name, slope_y * b->amount});
                ++b;
            } else {
                const double amount = slope_x * a->amount + slope_y * b->amount;
                if (amount != 0.0) {
                    r.terms_.push_back({a->id, a->name, amount});
                }
                ++a;
                ++b;
            }
        }
        return r;
    }

    double value_ = 0.0;
    std::vector<term> terms_;
};

double covariance(const Uncertain& x, const Uncertain& y);
double value_of(const Uncertain& x);

namespace num {

using ferment::value_of;

}  // namespace num

/// Correlation coefficient of two results, -1 to 1; NaN where one of them has no doubt.
inline double correlation(const Uncertain& x, const Uncertain& y) {
    return covariance(x, y) / (x.standard_uncertainty() * y.standard_uncertainty());
}

/// The result of a function of plain numbers, with the doubt of its inputs: any door of this library, an instrument or a reduction, carries
/// uncertainty this way.
///   f        callable (double...) -> double; may throw an Error
///   inputs   Uncertain, or plain numbers
///   ->       f at the values, with its first-order dependence on every input. Slopes are central differences of the step that balances round-off and
///            curvature, one-sided where f refuses one side; Source: GUM 5.1.3, note 2.
/// Throws what f throws at the values, and where it refuses both sides.
template <class F, class... U>
Uncertain propagate(const F& f, const U&... inputs) {
    constexpr std::size_t n = sizeof...(U);
    const Uncertain given[n] = {Uncertain(inputs)...};
    double at[n] = {given[0].value()};
    for (std::size_t i = 0; i < n; ++i) at[i] = given[i].value();
    const auto call = [&]<std::size_t... I>(std::index_sequence<I...>) {
        return f(at[I]...);
    };
    const auto value_now = [&] { return call(std::make_index_sequence<n>{}); };
    const double here = value_now();
    Uncertain result(here);
    constexpr double balance = 6e-6;  // cube root of the round-off of a double
    for (std::size_t i = 0; i < n; ++i) {
        if (given[i].standard_uncertainty() == 0.0) continue;
        const double x = at[i];
        const double step = balance * std::max(std::abs(x), given[i].standard_uncertainty());
        const auto off = [&](const double by) {
            at[i] = x + by;
            const double y = value_now();
            at[i] = x;
            return y;
        };
        double slope = 0.0;
        double up = here;
        double above = 0.0;
        try {
            up = off(step);
            above = step;
        } catch (const Error&) {
            at[i] = x;
        }
        try {
            slope = (up - off(-step)) / (above + step);
        } catch (const Error&) {
            at[i] = x;
            if (above == 0.0) throw;
            slope = (up - here) / above;
        }
        result += slope * (given[i] - x);
    }
    return result;
}

/// A stated number with its standard uncertainty, as a table, a certificate or a meter gives it.
struct measured {
    double value = 0.0;
    double standard_uncertainty = 0.0;

    /// The same as an independent input of a calculation.
    [[nodiscard]] Uncertain as_input(std::string name) const { return Uncertain::input(value, standard_uncertainty, std::move(name)); }

    friend bool operator==(const measured&, const measured&) = default;
};

}  // namespace ferment
