#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/fermentation/fit.hpp>
#include <numbers>
#include <string>
#include <string_view>
#include <vector>

#include "readings.hpp"

using namespace ferment;
using namespace ferment_test;

namespace {

using Z = kinetic_values<double>;

/// Parameters away from their medians, up to so many spreads.
Z some_truth(const double spreads, const double phase) {
    Z z{};
    for (std::size_t i = 0; i < kinetic::count; ++i) z[i] = spreads * std::sin(phase + 1.9 * static_cast<double>(i));
    return z;
}

Belief::Matrix covariance(const Fitted& f) {
    return f.belief.root * f.belief.root.transpose();
}

/// Logarithm of the determinant of the covariance.
double log_determinant(const Fitted& f) {
    return 2.0 * std::log(std::abs(f.belief.root.determinant()));
}

double misfit_at(const Fermentation& f, const std::vector<Reading>& readings, const Belief::Vector& z) {
    const detail::FitProblem problem(f, readings);
    Eigen::VectorXd residual(problem.values());
    problem(z, residual);
    return residual.squaredNorm();
}

/// How far from its least the misfit is: the Newton step, in standard deviations of what is left of the doubt, from central differences of the misfit.
double steps_from_the_least(const Fermentation& f, const std::vector<Reading>& readings, const Fitted& found) {
    constexpr double h = 2e-2;
    Belief::Vector gradient;
    for (int i = 0; i < Belief::size; ++i) {
        Belief::Vector up = found.belief.mean;
        Belief::Vector down = found.belief.mean;
        up[i] += h;
        down[i] -= h;
        gradient[i] = (misfit_at(f, readings, up) - misfit_at(f, readings, down)) / (2.0 * h);
    }
    return (0.5 * found.belief.root.transpose() * gradient).norm();
}

/// A batch whose mash only takes on the temperature of its air, which is the one thing not known.
Fermentation only_the_air_unknown(const double celsius) {
    Fermentation f = trade_batch(steady(celsius));
    for (const kinetic_parameter& p : kinetic_table) {
        const auto i = static_cast<std::size_t>(&p - kinetic_table.data());
        if (i != kinetic::ambient_offset) f.set_prior(p.name, f.priors[i].median, 0.0);
    }
    f.set_prior("uptake_rate", 1e-12, 0.0);  // no heat of its own
    return f;
}

}  // namespace

TEST_CASE("fit: without readings the priors stay", "[fermentation][fit][identity]") {
    const Fitted found = fit(trade_batch(steady(20.0)), {});
    CHECK(found.belief.mean == Belief::Vector::Zero());
    CHECK(covariance(found) == Belief::Matrix::Identity());
    CHECK(found.residuals.empty());
    CHECK(found.misfit == 0.0);
    CHECK(found.chance == 1.0);
    CHECK(found.log_evidence == 0.0);
    CHECK(found.warning.empty());
    Belief::Vector elsewhere = Belief::Vector::Constant(0.7);
    CHECK(fit(trade_batch(steady(20.0)), {}, elsewhere).belief.mean == Belief::Vector::Zero());
}

TEST_CASE("fit: one thing unknown, one thing read, in closed form", "[fermentation][fit][analytic]") {
    // After three weeks the mash is as warm as the air: offset, a standard deviation of 1 K, read with u. Two normal distributions: mean d/(1 + u^2),
    // variance u^2/(1 + u^2), misfit d^2/(1 + u^2), and the reading's own probability is that of a normal distribution of variance 1 + u^2.
    const Fermentation f = only_the_air_unknown(20.0);
    for (const double d : {-2.0, 0.0, 1.0}) {
        for (const double u : {0.2, 0.5, 3.0}) {
            const Fitted found = fit(f, {temperature_read(504.0, 20.0 + d, u)});
            const double wide = 1.0 + u * u;
            CAPTURE(d, u, found.belief.mean[kinetic::ambient_offset], found.misfit, found.log_evidence);
            CHECK(std::abs(found.belief.mean[kinetic::ambient_offset] - d / wide) <= 1e-5);
            CHECK(std::abs(covariance(found)(kinetic::ambient_offset, kinetic::ambient_offset) - u * u / wide) <= 1e-5);
            CHECK(std::abs(found.misfit - d * d / wide) <= 1e-5 * (1.0 + found.misfit));
            CHECK(std::abs(found.log_evidence + 0.5 * d * d / wide + 0.5 * std::log(wide)) <= 1e-5);
            CHECK(std::abs(found.chance - std::erfc(std::abs(d) / std::sqrt(2.0 * wide))) <= 1e-5);
            for (int i = 0; i < Belief::size; ++i) {
                if (i == kinetic::ambient_offset) continue;
                CHECK(std::abs(found.belief.mean[i]) <= 1e-6);  // what has no spread cannot be learnt of
                CHECK(std::abs(covariance(found)(i, i) - 1.0) <= 1e-6);
            }
        }
    }
    // Two readings weigh as one of half the variance.
    const Fitted twice = fit(f, {temperature_read(504.0, 21.0, 0.5), temperature_read(504.0, 21.0, 0.5)});
    CHECK(std::abs(twice.belief.mean[kinetic::ambient_offset] - 1.0 / 1.125) <= 1e-5);
    CHECK(std::abs(covariance(twice)(kinetic::ambient_offset, kinetic::ambient_offset) - 0.125 / 1.125) <= 1e-5);
}

TEST_CASE("fit: what was said of the start cannot be adjusted", "[fermentation][fit][analytic]") {
    // The temperature at pitching is given: a reading at time 0 says nothing of any parameter, and its deviation is all there is of a misfit.
    const Fermentation f = trade_batch(steady(20.0));
    for (const double deviation : {0.0, 1.0, -2.0, 3.0}) {
        const Fitted found = fit(f, {temperature_read(0.0, 20.0 + 0.5 * deviation, 0.5)});
        CAPTURE(deviation, found.chance);
        CHECK(found.belief.mean.norm() <= 1e-12);
        CHECK((covariance(found) - Belief::Matrix::Identity()).norm() <= 1e-12);
        CHECK(std::abs(found.misfit - deviation * deviation) <= 1e-12);
        CHECK(std::abs(found.chance - std::erfc(std::abs(deviation) / std::numbers::sqrt2)) <= 1e-12);
        REQUIRE(found.residuals.size() == 1);
        CHECK(std::abs(found.residuals[0].deviation - deviation) <= 1e-12);
        // Three standard deviations: 0.27 %, less than the one in a hundred of a contradiction.
        CHECK(found.warning.empty() == (std::abs(deviation) < 2.5));
    }
}

TEST_CASE("fit: residuals are those of the fitted course", "[fermentation][fit][identity]") {
    const Fermentation f = trade_batch(steady(20.0));
    std::vector<Reading> readings = readings_of(f, {24.0, 60.0, 120.0}, all_instruments, some_truth(0.8, 0.3));
    readings[1].temperature.reset();
    readings[2].iodine = true;
    const Fitted found = fit(f, readings);
    const std::vector<std::string_view> order{"gravity", "temperature", "co2_lost", "gravity", "co2_lost", "gravity", "temperature", "co2_lost", "iodine"};
    REQUIRE(found.residuals.size() == order.size());
    const Course course = simulate(f, {24.0, 60.0, 120.0}, found.belief.middle(), detail::ensemble_tolerance(f));
    double sum = found.belief.mean.squaredNorm();
    for (std::size_t i = 0; i < order.size(); ++i) {
        const Residual& r = found.residuals[i];
        CAPTURE(i, std::string(r.what), r.time_h, r.read, r.fitted);
        CHECK(r.what == order[i]);
        const std::size_t at = r.time_h == 24.0 ? 0 : r.time_h == 60.0 ? 1 : 2;
        const WashState& s = course.at[at];
        const Reading& read = readings[at];
        if (r.what == "gravity") {
            CHECK(r.read == read.gravity->value);
            CHECK(r.fitted == s.gravity);
            CHECK(std::abs(r.deviation - (r.read - r.fitted) / 1e-3) <= 1e-12);
        } else if (r.what == "temperature") {
            CHECK(r.read == read.temperature->value);
            CHECK(r.fitted == s.temperature_c);
            CHECK(std::abs(r.deviation - (r.read - r.fitted) / 0.5) <= 1e-12);
        } else if (r.what == "co2_lost") {
            CHECK(r.read == read.co2_lost->value);
            CHECK(r.fitted == s.co2_lost_kg);
            CHECK(std::abs(r.deviation - (r.read - r.fitted) / 0.05) <= 1e-12);
        } else {
            // One in fifty misjudges the colour, so that neither answer is ever impossible.
            CHECK(r.read == 1.0);
            CHECK(std::abs(r.fitted - (0.02 + 0.96 * iodine_test::chance_positive(s.open_starch))) <= 1e-15);
            CHECK(std::abs(0.5 * r.deviation * r.deviation + std::log(r.fitted)) <= 1e-12);
        }
        sum += r.deviation * r.deviation;
    }
    CHECK(std::abs(sum - found.misfit) <= 1e-10 * (1.0 + sum));
    CHECK(found.belief.middle()[kinetic::lag] == found.belief.mean[kinetic::lag]);
}

TEST_CASE("fit: close readings recover the course they were taken from", "[fermentation][fit]") {
    // A tenth of a point, 5 g of gas, a tenth of a kelvin: the fitted course lies within them, also where nothing was read.
    constexpr Instruments close{1e-4, 0.1, 0.005};
    const Fermentation f = trade_batch(steady(20.0));
    const std::vector<double> hours{6.0, 12.0, 24.0, 36.0, 48.0, 72.0, 96.0, 144.0, 240.0};
    const std::vector<double> between{18.0, 60.0, 120.0, 192.0};
    double worst_between = 0.0;
    for (const double phase : {0.3, 1.7, 4.0}) {
        const Z truth = some_truth(1.0, phase);
        const Fitted found = fit(f, readings_of(f, hours, close, truth));
        CAPTURE(phase, found.misfit, found.chance);
        CHECK(found.warning.empty());
        for (const Residual& r : found.residuals) {
            CAPTURE(std::string(r.what), r.time_h, r.read, r.fitted, r.deviation);
            CHECK(std::abs(r.deviation) <= 1.0);
        }
        const Course real = simulate(f, between, truth);
        const Course fitted = simulate(f, between, found.belief.middle());
        for (std::size_t i = 0; i < between.size(); ++i) {
            worst_between = std::max(worst_between, std::abs(real.at[i].gravity - fitted.at[i].gravity) / close.gravity);
            worst_between = std::max(worst_between, std::abs(real.at[i].co2_lost_kg - fitted.at[i].co2_lost_kg) / close.co2_lost);
        }
        // Nine readings so close take most of the doubt away, in some directions nearly all of it.
        CHECK(log_determinant(found) < -10.0);
        CHECK(misfit_at(f, readings_of(f, hours, close, truth), found.belief.mean) < misfit_at(f, readings_of(f, hours, close, truth), Belief::Vector::Zero()));
    }
    CAPTURE(worst_between);
    CHECK(worst_between <= 1.5);  // measured 1.4
}

TEST_CASE("fit: readings of the medians leave them where they are", "[fermentation][fit][identity]") {
    const Fermentation f = trade_batch(steady(20.0));
    const Fitted found = fit(f, readings_of(f, {24.0, 72.0, 200.0}, all_instruments));
    CAPTURE(found.belief.mean.norm(), found.misfit);
    CHECK(found.belief.mean.norm() <= 1e-3);  // the readings are of the closer integration, the fit of that of ensembles
    CHECK(found.misfit <= 1e-4);
    CHECK(found.chance > 0.9999);
    CHECK(found.warning.empty());
}

TEST_CASE("fit: the misfit is least where it ends", "[fermentation][fit]") {
    for (const double celsius : {16.0, 24.0}) {
        const Fermentation f = trade_batch(steady(celsius));
        for (const double phase : {0.3, 2.0}) {
            for (const Instruments& with : {hydrometer_only, all_instruments}) {
                const std::vector<Reading> readings = readings_of(f, {20.0, 44.0, 70.0, 140.0}, with, some_truth(1.2, phase));
                const Fitted found = fit(f, readings);
                const double steps = steps_from_the_least(f, readings, found);
                CAPTURE(celsius, phase, steps, found.misfit);
                CHECK(steps <= 0.06);  // measured 0.002 to 0.056
                CHECK(std::abs(misfit_at(f, readings, found.belief.mean) - found.misfit) <= 1e-9 * (1.0 + found.misfit));
                // And it is no saddle: a standard deviation away in any direction of the doubt the misfit is larger.
                for (int i = 0; i < Belief::size; ++i) {
                    for (const double sign : {-1.0, 1.0}) {
                        CHECK(misfit_at(f, readings, found.belief.mean + sign * found.belief.root.col(i)) > found.misfit);
                    }
                }
                // The search finds the same from elsewhere.
                const Fitted again = fit(f, readings, Belief::Vector::Constant(0.4));
                CAPTURE(again.misfit - found.misfit);
                CHECK(std::abs(again.misfit - found.misfit) <= 1e-4);
            }
        }
    }
}

TEST_CASE("fit: what is read takes doubt away and never adds any", "[fermentation][fit]") {
    const Fermentation f = trade_batch(steady(20.0));
    for (const Z& truth : {Z{}, some_truth(1.0, 0.3), some_truth(1.0, 4.0)}) {
        const std::vector<Reading> all = readings_of(f, {12.0, 24.0, 48.0, 96.0, 144.0, 240.0}, all_instruments, truth);
        double before = 0.0;  // of the priors
        for (std::size_t n = 1; n <= all.size(); ++n) {
            const Fitted found = fit(f, {all.begin(), all.begin() + static_cast<std::ptrdiff_t>(n)});
            CAPTURE(n, log_determinant(found), before);
            CHECK(log_determinant(found) < before);
            before = log_determinant(found);
            for (int i = 0; i < Belief::size; ++i) CHECK(covariance(found)(i, i) <= 1.0 + 1e-12);
        }
        CHECK(before < -5.0);
    }
    // A reading of no use leaves the priors.
    const Fitted vague = fit(f, {gravity_read(48.0, 1.03, 10.0)});
    CHECK((covariance(vague) - Belief::Matrix::Identity()).norm() <= 1e-4);
    CHECK(vague.belief.mean.norm() <= 1e-3);
}

TEST_CASE("fit: the iodine test", "[fermentation][fit]") {
    // At the time the medians call done: starch seen means that it goes more slowly, none seen that it went faster.
    const Fermentation f = trade_batch(steady(20.0));
    const double end = simulate(f, {400.0}).done_h;
    const Fitted dark = fit(f, {iodine_read(end, true)});
    const Fitted clear = fit(f, {iodine_read(end, false)});
    CAPTURE(end, dark.belief.mean[kinetic::hydrolysis_rate], clear.belief.mean[kinetic::hydrolysis_rate]);
    CHECK(dark.belief.mean[kinetic::hydrolysis_rate] < -0.05);
    CHECK(clear.belief.mean[kinetic::hydrolysis_rate] > 0.05);
    const auto conversion = [&](const Fitted& x) { return simulate(f, {end}, x.belief.middle()).at[0].conversion; };
    CHECK(conversion(dark) < simulate(f, {end}).at[0].conversion);
    CHECK(conversion(clear) > simulate(f, {end}).at[0].conversion);
    CHECK(dark.warning.empty());
    CHECK(clear.warning.empty());
    // A test on the first day can only be dark: it says nothing, and a clear one then is a slip of the eye, no end of the fermentation.
    const Fitted sure = fit(f, {iodine_read(24.0, true)});
    CHECK(sure.belief.mean.norm() <= 1e-3);
    const Fitted slip = fit(f, {iodine_read(24.0, false)});
    CAPTURE(slip.misfit);
    CHECK(slip.misfit <= -2.0 * std::log(0.02) + 1e-9);
}

TEST_CASE("fit: readings that no course can give", "[fermentation][fit]") {
    const Fermentation f = trade_batch(steady(20.0));
    // Falls to 0.995 and is back at 1.06 two days later: somebody read another vessel.
    const Fitted found = fit(f, {gravity_read(24.0, 1.045), gravity_read(48.0, 1.020), gravity_read(144.0, 0.995), gravity_read(192.0, 1.060)});
    CAPTURE(found.warning, found.chance);
    CHECK(found.chance < contradiction_chance);
    const auto furthest = std::max_element(found.residuals.begin(), found.residuals.end(),
                                           [](const Residual& a, const Residual& b) { return std::abs(a.deviation) < std::abs(b.deviation); });
    CHECK(furthest->time_h == 192.0);
    CHECK(holds(found.warning, "the readings contradict the model"));
    CHECK(holds(found.warning, "furthest off is gravity at 192 h, read 1.06 where "));
    // The same without the last reading is an ordinary fermentation.
    const Fitted without = fit(f, {gravity_read(24.0, 1.045), gravity_read(48.0, 1.020), gravity_read(144.0, 0.997)});
    CAPTURE(without.warning, without.chance);
    CHECK(without.warning.empty());
    CHECK(without.chance > contradiction_chance);
    // A mash at 35 degC in air of 20 after a week: the thermometer is named.
    const Fitted hot = fit(f, {gravity_read(168.0, 0.998), temperature_read(168.0, 35.0, 0.5)});
    CHECK(holds(hot.warning, "furthest off is temperature at 168 h, read 35 where "));
    for (const double phase : {0.3, 2.0, 4.0}) {
        CHECK(fit(f, readings_of(f, {24.0, 72.0, 168.0}, all_instruments, some_truth(1.0, phase))).warning.empty());
    }
}

TEST_CASE("fit: wrong input is refused", "[fermentation][fit]") {
    const Fermentation f = trade_batch(steady(20.0));
    const auto input = [&](const std::vector<Reading>& r) { return message_of<InputError>([&] { fit(f, r); }); };
    const auto range = [&](const std::vector<Reading>& r) { return message_of<RangeError>([&] { fit(f, r); }); };
    const auto gas = [](const double kg, const double u) {
        Reading r;
        r.time_h = 5.0;
        r.co2_lost = measured{kg, u};
        return r;
    };
    CHECK(holds(input({gravity_read(48.0, 1.02), gravity_read(24.0, 1.04)}), "readings must not go backwards in time; 24 h follows 48 h"));
    CHECK(input({gravity_read(nan_value, 1.02)}) == "time of the reading is not a number");
    CHECK(input({gravity_read(infinite, 1.02)}) == "time of the reading is infinite");
    CHECK(holds(range({gravity_read(-1.0, 1.02)}), "time of the reading -1 h is outside 0 to 8760 h"));
    CHECK(holds(range({gravity_read(8761.0, 1.02)}), "time of the reading 8761 h"));
    CHECK(holds(range({gravity_read(1.0, 0.5)}), "gravity 0.5 SG 20/20 is outside 0.95 to 1.2 SG 20/20"));
    CHECK(holds(range({gravity_read(1.0, 1.3)}), "gravity 1.3 SG 20/20"));
    CHECK(input({gravity_read(1.0, nan_value)}) == "gravity is not a number");
    CHECK(input({gravity_read(1.0, infinite)}) == "gravity is infinite");
    for (const double u : {0.0, -0.001, nan_value, infinite}) {
        CAPTURE(u);
        CHECK(holds(input({gravity_read(1.0, 1.02, u)}), "standard uncertainty of gravity is "));
        CHECK(holds(input({gravity_read(1.0, 1.02, u)}), "it must be a number above zero"));
        CHECK(holds(input({temperature_read(1.0, 20.0, u)}), "standard uncertainty of temperature of the wash is "));
        CHECK(holds(input({gas(0.1, u)}), "standard uncertainty of carbon dioxide lost is "));
    }
    CHECK(input({temperature_read(1.0, nan_value)}) == "temperature of the wash is not a number");
    CHECK(holds(range({temperature_read(1.0, 61.0)}), "temperature of the wash 61 degC is outside -5 to 60 degC"));
    CHECK(holds(range({temperature_read(1.0, -6.0)}), "temperature of the wash -6 degC"));
    CHECK(input({gas(nan_value, 0.1)}) == "carbon dioxide lost is not a number");
    CHECK(holds(range({gas(-1.5, 0.1)}), "carbon dioxide lost -1.5 kg is outside -1 to 1000000 kg"));
    Reading nothing;
    nothing.time_h = 30.0;
    CHECK(holds(input({gravity_read(24.0, 1.03), nothing}), "the reading at 30 h holds nothing; give gravity, temperature, carbon dioxide lost or iodine"));
    // The first of several that is wrong is enough; twice at one time is fine.
    CHECK(holds(range({gravity_read(24.0, 1.03), gravity_read(48.0, 0.9)}), "gravity 0.9 SG 20/20"));
    CHECK(input({gravity_read(24.0, 1.03), gravity_read(24.0, 1.031), iodine_read(24.0, true)}) == "no error");
    CHECK(holds(message_of<SolveError>([&] { fit(f, {gravity_read(24.0, 1.03)}, Belief::Vector::Constant(nan_value)); }), "could not be fitted"));
}
