#pragma once
// Several strengths of one wash, weighed into one, and whether they agree.

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/uncertain.hpp>
#include <ferment/strength/without_og.hpp>
#include <string>
#include <vector>

namespace ferment {

/// What one strength says beside the others.
struct Agreement {
    std::string route;
    double weight = 0.0;     ///< in the combined strength; all add up to one
    double deviation = 0.0;  ///< from what the others combine to, in standard uncertainties of the difference
};

/// The best estimate from several.
struct CombinedStrength {
    Uncertain abv;                      ///< volume fraction at 20 degC
    std::vector<Agreement> agreements;  ///< one for each strength
    double chi_square = 0.0;
    double chance = 1.0;  ///< of as large a disagreement if all uncertainties are right
    bool consistent = true;
    std::string outlier;  ///< the route that disagrees most, where they are not consistent
};

inline constexpr double disagreement_chance = 0.05;

namespace detail {

/// Covariances of results through the inputs they share.
inline Eigen::MatrixXd covariances(const std::vector<Uncertain>& values) {
    const auto n = static_cast<Eigen::Index>(values.size());
    Eigen::MatrixXd v(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
        for (Eigen::Index j = 0; j < n; ++j) {
            v(i, j) = covariance(values[static_cast<std::size_t>(i)], values[static_cast<std::size_t>(j)]);
        }
    }
    return v;
}

/// Weights of the best linear unbiased estimate: V^-1 1 / (1^T V^-1 1).
inline Eigen::VectorXd best_weights(const std::vector<Uncertain>& values) {
    constexpr double least_own = 1e-9;  // of the largest variance
    const Eigen::LDLT<Eigen::MatrixXd> factor = covariances(values).ldlt();
    const Eigen::VectorXd own = factor.vectorD();
    if (!(own.minCoeff() > least_own * own.maxCoeff())) {
        throw InputError("these strengths share all their doubt, so that none can weigh against another; combine needs readings of their own");
    }
    const Eigen::VectorXd w = factor.solve(Eigen::VectorXd::Ones(static_cast<Eigen::Index>(values.size())));
    return w / w.sum();
}

inline Uncertain weighted(const std::vector<Uncertain>& values) {
    const Eigen::VectorXd w = best_weights(values);
    Uncertain sum(0.0);
    for (std::size_t i = 0; i < values.size(); ++i) {
        sum += w[static_cast<Eigen::Index>(i)] * values[i];
    }
    return sum;
}

}  // namespace detail

/// The best estimate of a wash's strength from several routes (generalised least squares), tested for consistency.
///   found   at least two, each with a standard uncertainty above zero
///   ->      strength with its budget; where the chance of so much disagreement is below 5 %, the route furthest from the others is named and
///           nothing is left out: the choice is the reader's
/// Throws InputError for fewer than two, one without doubt, or strengths that share all their doubt. Source: GUM; chi-square test of a weighted mean.
inline CombinedStrength combine(const std::vector<FoundStrength>& found) {
    if (found.size() < 2) {
        throw InputError("combine needs at least two strengths; got " + std::to_string(found.size()));
    }
    std::vector<Uncertain> values;
    for (const FoundStrength& f : found) {
        if (!(f.abv.standard_uncertainty() > 0.0) || !std::isfinite(f.abv.value())) {
            throw InputError("strength by " + f.route + " needs a value and a standard uncertainty above zero; got " +
                             format_quantity(detail::percent * f.abv.value(), "% vol") + " and " +
                             format_quantity(detail::percent * f.abv.standard_uncertainty(), "% vol"));
        }
        // A found strength may lie below nothing by its doubt.
        constexpr double whole = detail::percent_range.upper;
        require_inside("strength by " + f.route, detail::percent * f.abv.value(), "% vol", {-whole, whole}, "a share of the whole");
        require_inside("standard uncertainty of the strength by " + f.route, detail::percent * f.abv.standard_uncertainty(), "% vol", detail::percent_range,
                       "a share of the whole");
        values.push_back(f.abv);
    }
    CombinedStrength c;
    const Eigen::VectorXd w = detail::best_weights(values);
    c.abv = detail::weighted(values);
    const auto n = static_cast<Eigen::Index>(values.size());
    Eigen::VectorXd off(n);
    double furthest = 0.0;
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto at = static_cast<std::size_t>(i);
        off[i] = values[at].value() - c.abv.value();
        std::vector<Uncertain> others = values;
        others.erase(others.begin() + i);
        const Uncertain apart = values[at] - detail::weighted(others);
        const double deviation = apart.value() / apart.standard_uncertainty();
        c.agreements.push_back({found[at].route, w[i], deviation});
        if (std::abs(deviation) > furthest) {
            furthest = std::abs(deviation);
            c.outlier = found[at].route;
        }
    }
    c.chi_square = off.dot(detail::covariances(values).ldlt().solve(off));
    c.chance = boost::math::gamma_q(0.5 * static_cast<double>(n - 1), 0.5 * c.chi_square);
    c.consistent = c.chance >= disagreement_chance;
    if (c.consistent) c.outlier.clear();
    return c;
}

}  // namespace ferment
