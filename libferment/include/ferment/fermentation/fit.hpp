#pragma once
// What the readings of a batch say of its parameters: the most probable ones and what doubt is left.

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/fermentation/course.hpp>
#include <ferment/fermentation/forecast.hpp>
#include <ferment/fermentation/simulate.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <unsupported/Eigen/NonLinearOptimization>
#include <vector>

namespace ferment {

/// What was read at one time; any mix. Standard uncertainties are those of the reading, sampling included.
struct Reading {
    double time_h = 0.0;                  ///< after pitching
    std::optional<measured> gravity;      ///< SG 20/20, corrected for temperature, of degassed liquid without solids
    std::optional<measured> temperature;  ///< of the wash, degC
    std::optional<measured> co2_lost;     ///< kg that a scale under the vessel has lost since pitching
    std::optional<bool> iodine;           ///< whether the iodine test showed starch
};

/// A reading beside the fitted course.
struct Residual {
    double time_h = 0.0;
    std::string_view what;   ///< gravity, temperature, co2_lost or iodine
    double read = 0.0;       ///< for the iodine test 1 or 0
    double fitted = 0.0;     ///< for the iodine test the chance of a positive
    double deviation = 0.0;  ///< read less fitted, in standard uncertainties of the reading; for the iodine test its surprise
};

/// What a fit found.
struct Fitted {
    Belief belief;                    ///< most probable parameters and their covariance, in spreads
    std::vector<Residual> residuals;  ///< one for each thing read
    double misfit = 0.0;              ///< least sum of squares, of the readings and of the parameters' pull away from their medians
    double chance = 1.0;              ///< of a misfit as large or larger if model, priors and uncertainties are right
    double log_evidence = 0.0;        ///< log probability of the readings, Laplace's approximation
    std::string warning;              ///< empty unless the readings contradict the model
};

inline constexpr double contradiction_chance = 0.01;  // below it, the readings contradict the model

namespace detail {

inline constexpr num::interval any_wash_gravity{0.95, 1.2};
inline constexpr num::interval any_wash_temperature{-5.0, 60.0};

inline void require_reading(const std::string& what, const std::optional<measured>& x, const std::string_view unit, const num::interval range,
                            const std::string_view why) {
    if (!x) return;
    require_number(what, x->value);
    require_inside(what, x->value, unit, range, why);
    if (!(x->standard_uncertainty > 0.0) || !std::isfinite(x->standard_uncertainty)) {
        throw InputError("standard uncertainty of " + what + " is " + format_number(x->standard_uncertainty) +
                         "; it must be a number above zero, for no reading is exact");
    }
}

inline void require_readings(const std::vector<Reading>& readings) {
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading& r = readings[i];
        require_number("time of the reading", r.time_h);
        require_inside("time of the reading", r.time_h, "h", {0.0, longest_course_h}, "after pitching; a year at most");
        if (i > 0 && r.time_h < readings[i - 1].time_h) {
            throw InputError("readings must not go backwards in time; " + format_quantity(r.time_h, "h") + " follows " +
                             format_quantity(readings[i - 1].time_h, "h"));
        }
        require_reading("gravity", r.gravity, "SG 20/20", any_wash_gravity, "no wash of grain is lighter or heavier");
        require_reading("temperature of the wash", r.temperature, "degC", any_wash_temperature, "of a fermenting wash");
        require_reading("carbon dioxide lost", r.co2_lost, "kg", {-1.0, 1e6}, "since pitching");
        if (!r.gravity && !r.temperature && !r.co2_lost && !r.iodine) {
            throw InputError("the reading at " + format_quantity(r.time_h, "h") +
                             " holds nothing; give gravity, temperature, carbon dioxide lost or iodine test");
        }
    }
}

/// Chance that somebody misjudges the colour of an iodine test.
inline constexpr double iodine_slip = 0.02;

/// Readings as a least-squares problem: the parameters' own pull, then one row for everything read.
class FitProblem {
public:
    using Scalar = double;
    using InputType = Eigen::VectorXd;
    using ValueType = Eigen::VectorXd;
    using JacobianType = Eigen::MatrixXd;
    static constexpr int InputsAtCompileTime = Eigen::Dynamic;
    static constexpr int ValuesAtCompileTime = Eigen::Dynamic;

    FitProblem(const Fermentation& f, const std::vector<Reading>& readings) : f_(f), readings_(readings) {
        for (const Reading& r : readings) {
            hours_.push_back(r.time_h);
            rows_ += (r.gravity ? 1 : 0) + (r.temperature ? 1 : 0) + (r.co2_lost ? 1 : 0) + (r.iodine ? 1 : 0);
        }
    }

    [[nodiscard]] int inputs() const { return Belief::size; }
    [[nodiscard]] int values() const { return Belief::size + rows_; }
    [[nodiscard]] int rows() const { return rows_; }

    int operator()(const Eigen::VectorXd& z, Eigen::VectorXd& residual) const {
        residual.head(Belief::size) = z;
        Eigen::Index row = Belief::size;
        bool possible = z.allFinite();
        try {
            if (possible) {
                for (const Residual& r : compare(z)) {
                    residual[row++] = r.deviation;
                }
            }
        } catch (const SolveError&) {
            possible = false;
        }
        // Parameters so far off that no course can be followed, or no wash be weighed: a step the search must take back.
        if (!possible || !residual.allFinite()) {
            residual.tail(rows_).setConstant(impossible);
        }
        return 0;
    }

    int df(const Eigen::VectorXd& z, Eigen::MatrixXd& jacobian) const {
        constexpr double step = 1e-2;  // of a spread; the integrator's tolerance is far below what that changes
        Eigen::VectorXd up(values());
        Eigen::VectorXd down(values());
        for (Eigen::Index i = 0; i < Belief::size; ++i) {
            Eigen::VectorXd moved = z;
            moved[i] = z[i] + step;
            (*this)(moved, up);
            moved[i] = z[i] - step;
            (*this)(moved, down);
            jacobian.col(i) = (up - down) / (2.0 * step);
        }
        return 0;
    }

    /// Everything read beside the course of these parameters.
    [[nodiscard]] std::vector<Residual> compare(const Eigen::VectorXd& z) const {
        std::vector<Residual> all;
        if (readings_.empty()) return all;
        kinetic_values<double> values{};
        std::copy(z.begin(), z.end(), values.begin());
        const Course course = simulate(f_, hours_, values, ensemble_tolerance(f_));
        for (std::size_t i = 0; i < readings_.size(); ++i) {
            const Reading& r = readings_[i];
            const WashState& s = course.at[i];
            const auto add = [&](const std::string_view what, const std::optional<measured>& read, const double fitted) {
                if (read) all.push_back({r.time_h, what, read->value, fitted, (read->value - fitted) / read->standard_uncertainty});
            };
            add("gravity", r.gravity, s.gravity);
            add("temperature", r.temperature, s.temperature_c);
            add("co2_lost", r.co2_lost, s.co2_lost_kg);
            if (r.iodine) {
                const double positive = iodine_slip + (1.0 - 2.0 * iodine_slip) * iodine_test::chance_positive(s.open_starch);
                const double chance = *r.iodine ? positive : 1.0 - positive;
                all.push_back({r.time_h, "iodine", *r.iodine ? 1.0 : 0.0, positive, std::sqrt(-2.0 * std::log(chance))});
            }
        }
        return all;
    }

    /// Sum of the logarithms of the readings' uncertainties, for the evidence.
    [[nodiscard]] double log_uncertainties() const {
        double sum = 0.0;
        for (const Reading& r : readings_) {
            for (const std::optional<measured>* x : {&r.gravity, &r.temperature, &r.co2_lost}) {
                if (*x) sum += std::log((*x)->standard_uncertainty);
            }
        }
        return sum;
    }

private:
    static constexpr double impossible = 1e6;  // standard uncertainties
    const Fermentation& f_;
    const std::vector<Reading>& readings_;
    std::vector<double> hours_;
    int rows_ = 0;
};

inline std::string contradiction(const Fitted& fitted) {
    const auto worst = std::max_element(fitted.residuals.begin(), fitted.residuals.end(),
                                        [](const Residual& a, const Residual& b) { return std::abs(a.deviation) < std::abs(b.deviation); });
    constexpr double smallest_shown = 1e-6;
    const std::string chance =
        fitted.chance < smallest_shown ? "below " + format_number(smallest_shown) : format_number(std::round(fitted.chance / smallest_shown) * smallest_shown);
    return "the readings contradict the model (chance " + chance + "); furthest off is " + std::string(worst->what) + " at " +
           format_quantity(worst->time_h, "h") + ", read " + format_number(worst->read) + " where " + format_number(std::round(1e5 * worst->fitted) / 1e5) +
           " fits best";
}

}  // namespace detail

/// The parameters that agree best with readings and priors together (maximum a posteriori).
///   f          see Fermentation::of
///   readings   times not going backwards; none at all gives back the priors
///   start      where the search begins, in spreads: the medians, unless a neighbouring fit is known
///   ->         belief for forecast, residuals, and a warning where readings and model contradict each other
/// Throws InputError for a reading that is no number, holds nothing or goes back in time, RangeError for one that no wash can give, SolveError
/// where no course can be followed. Readings that no course comes near may stop the search before its end: the warning says so.
/// Method: Levenberg-Marquardt on the readings' deviations and the priors; covariance from the Jacobian there.
inline Fitted fit(const Fermentation& f, const std::vector<Reading>& readings, const Belief::Vector& start = Belief::Vector::Zero()) {
    detail::require_readings(readings);
    detail::FitProblem problem(f, readings);
    Eigen::VectorXd z = readings.empty() ? Belief::Vector::Zero().eval() : start;
    Fitted fitted;
    bool settled = true;
    if (!readings.empty()) {
        Eigen::LevenbergMarquardt<detail::FitProblem> search(problem);
        constexpr int most_evaluations = 200;
        constexpr double close_enough = 1e-5;  // relative, of the sum of squares and of the parameters
        search.parameters.maxfev = most_evaluations;
        search.parameters.ftol = close_enough;
        search.parameters.xtol = close_enough;
        settled = search.minimize(z) != Eigen::LevenbergMarquardtSpace::TooManyFunctionEvaluation;
        if (!z.allFinite()) {
            throw SolveError("the readings could not be fitted: the search left the numbers");
        }
    }
    Eigen::VectorXd residual(problem.values());
    Eigen::MatrixXd jacobian(problem.values(), problem.inputs());
    problem(z, residual);
    if (readings.empty()) {
        jacobian.setIdentity();
    } else {
        problem.df(z, jacobian);
    }
    // J = Q R, so that the covariance (J^T J)^-1 has the root R^-1; the parameters' own rows keep R from being singular.
    const Belief::Matrix r = jacobian.householderQr().matrixQR().topRows<Belief::size>().triangularView<Eigen::Upper>();
    if (!r.allFinite()) {
        throw SolveError("the readings could not be fitted: no course near the best one could be followed");
    }
    fitted.belief.mean = z;
    fitted.belief.root = r.triangularView<Eigen::Upper>().solve(Belief::Matrix::Identity());
    fitted.residuals = problem.compare(z);
    fitted.misfit = residual.squaredNorm();
    double log_determinant = 0.0;
    for (Eigen::Index i = 0; i < Belief::size; ++i) {
        log_determinant += 2.0 * std::log(std::abs(r(i, i)));
    }
    fitted.log_evidence = -0.5 * (fitted.misfit + log_determinant) - problem.log_uncertainties();
    if (problem.rows() > 0) {
        // For a linear model the misfit is chi-square distributed with as many degrees of freedom as there are readings.
        fitted.chance = boost::math::gamma_q(0.5 * problem.rows(), 0.5 * fitted.misfit);
        // A search that does not settle is far from any course the model can make.
        if (fitted.chance < contradiction_chance || !settled) {
            fitted.warning = detail::contradiction(fitted);
        }
    }
    return fitted;
}

}  // namespace ferment
