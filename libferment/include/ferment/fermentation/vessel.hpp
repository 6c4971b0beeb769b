#pragma once
// Where the mash stands: the air around it, the walls between, and the temperature that follows.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <ferment/core/error.hpp>
#include <ferment/core/scalar.hpp>
#include <ferment/core/source.hpp>
#include <ferment/fermentation/inoculum.hpp>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

namespace ferment {

inline constexpr double hours_per_day = 24.0;

/// The air around the vessel.
class Ambient {
public:
    /// Always the same, degC, -30 to 50. Throws RangeError, InputError.
    static Ambient constant(const double mean_c) { return day_night(mean_c, 0.0, 15.0); }

    /// A daily swing.
    ///   mean_c         degC, -30 to 50
    ///   swing_c        warmest less mean, K, 0 to 30
    ///   warmest_hour   time after pitching at which it is warmest for the first time, h, 0 to 24
    /// Throws RangeError, InputError.
    static Ambient day_night(const double mean_c, const double swing_c, const double warmest_hour) {
        require(mean_c, "ambient temperature");
        detail::require_number("daily swing", swing_c);
        detail::require_number("warmest hour", warmest_hour);
        require_inside("daily swing", swing_c, "K", {0.0, 30.0}, "warmest less mean of the day");
        require_inside("warmest hour", warmest_hour, "h", {0.0, hours_per_day}, "after pitching");
        Ambient a;
        a.mean_ = mean_c;
        a.swing_ = swing_c;
        a.warmest_ = warmest_hour;
        return a;
    }

    /// A logged series, straight between its entries; the first and the last hold before and after.
    ///   hours     after pitching, rising
    ///   degrees   degC, as many
    /// Throws InputError for times out of order or lengths that differ, RangeError for a temperature.
    static Ambient logged(std::vector<double> hours, std::vector<double> degrees) {
        if (hours.empty() || hours.size() != degrees.size()) {
            throw InputError("logged ambient needs as many times as temperatures, at least one; got " + std::to_string(hours.size()) + " and " +
                             std::to_string(degrees.size()));
        }
        for (std::size_t i = 0; i < hours.size(); ++i) {
            detail::require_number("time of the logged ambient", hours[i]);
            require(degrees[i], "ambient temperature");
            if (i > 0 && hours[i] <= hours[i - 1]) {
                throw InputError("times of the logged ambient must rise; " + format_quantity(hours[i], "h") + " follows " + format_quantity(hours[i - 1], "h"));
            }
        }
        Ambient a;
        a.hours_ = std::move(hours);
        a.degrees_ = std::move(degrees);
        return a;
    }

    /// degC at a time, h after pitching.
    [[nodiscard]] double at(const double hour) const {
        if (std::isnan(hour)) return hour;
        if (hours_.empty()) return swing_ == 0.0 ? mean_ : daily(hour);
        const auto after = std::upper_bound(hours_.begin(), hours_.end(), hour);
        if (after == hours_.begin()) return degrees_.front();
        if (after == hours_.end()) return degrees_.back();
        const auto i = static_cast<std::size_t>(after - hours_.begin());
        const double share = (hour - hours_[i - 1]) / (hours_[i] - hours_[i - 1]);
        return degrees_[i - 1] + share * (degrees_[i] - degrees_[i - 1]);
    }

    /// The same where nothing was logged, on any scalar.
    template <class T>
    [[nodiscard]] T daily(const T& hour) const {
        using std::cos;
        return mean_ + swing_ * cos(T(2.0 * std::numbers::pi * (hour - warmest_) / hours_per_day));
    }

    /// Whether it was logged.
    [[nodiscard]] bool is_logged() const { return !hours_.empty(); }

    /// Whether it never changes.
    [[nodiscard]] bool steady() const { return hours_.empty() && swing_ == 0.0; }

    friend bool operator==(const Ambient&, const Ambient&) = default;

private:
    static void require(const double t, const std::string& what) {
        detail::require_number(what, t);
        require_inside(what, t, "degC", {-30.0, 50.0}, "air around a fermenter");
    }
    double mean_ = 20.0;
    double swing_ = 0.0;
    double warmest_ = 15.0;
    std::vector<double> hours_;
    std::vector<double> degrees_;
};

inline constexpr source vessel_walls{
    "vessel_walls",
    "heat transfer through the wall of a fermenter in still air [W/(m2 K)]",
    "engineering estimates: air film 6 to 9 over a bare wall of metal or plastic; wood of 25 mm 3; 25 mm of foam 1.2",
    "indoors, no wind",
    "30 %",
    source_status::common_practice,
};

/// The walls.
struct Vessel {
    static constexpr double bare = 7.0, wood = 3.0, insulated = 1.2;  // W/(m2 K), vessel_walls

    double heat_transfer = bare;  ///< W/(m2 K)
    double sunshine_w = 0.0;      ///< heat that the sun brings in at noon, W; half a sine from sunrise to sunset, 12 hours
    double noon_hour = 12.0;      ///< time after pitching of the first noon, h

    friend bool operator==(const Vessel&, const Vessel&) = default;
};

/// How the mash is kept.
struct Conditions {
    double mash_c = 20.0;  ///< at pitching
    Ambient ambient = Ambient::constant(20.0);
    Vessel vessel{};
};

namespace detail {

inline void require_conditions(const Conditions& c) {
    require_number("mash temperature", c.mash_c);
    require_number("heat transfer", c.vessel.heat_transfer);
    require_number("sunshine", c.vessel.sunshine_w);
    require_number("noon", c.vessel.noon_hour);
    require_inside("mash temperature", c.mash_c, "degC", {0.0, 45.0}, "at pitching; yeast dies above");
    require_inside("heat transfer", c.vessel.heat_transfer, "W/(m2 K)", {0.0, 100.0}, "wall of a fermenter");
    require_inside("sunshine", c.vessel.sunshine_w, "W", {0.0, std::numeric_limits<double>::infinity()}, "heat that the sun brings in at noon");
    require_inside("noon", c.vessel.noon_hour, "h", {0.0, hours_per_day}, "after pitching");
}

}  // namespace detail

/// The heat of a mash in a vessel.
struct vessel_heat {
    static constexpr source from{
        "heat_of_fermentation",
        "heat of fermentation [kJ per kg of hexose]",
        "24 kcal/mol, as stated with reference to Colombie, Malherbe, Sablayrolles 2007, Food Control 18:953-960",
        "sugar to dissolved ethanol and gaseous carbon dioxide",
        "10 %; 557 kJ/kg, which agrees with dissolved-species formation enthalpies",
    };
    static constexpr double fermentation_kj_per_kg = 557.0;
    static constexpr double water_kj_per_kg_k = 4.186;
    static constexpr double dry_grain_relative = 0.38;  // to water; Brewing Room Book 1984/85, as reprinted, malt grist at 0 % moisture
    static constexpr double seconds_per_hour = 3600.0;
    static constexpr double grain_l_per_kg = 0.69;  // pore-free, Chang 1988, Cereal Chem. 65:13-15

    /// Wall of a cylinder as high as wide, lid and floor included, m2: the least for its volume.
    ///   litres   of mash
    static double surface_m2(const double litres) {
        constexpr double litres_per_cubic_metre_ = 1000.0;
        const double radius = std::cbrt(litres / litres_per_cubic_metre_ / (2.0 * std::numbers::pi));
        return 6.0 * std::numbers::pi * radius * radius;
    }

    /// The most that the sun can bring into such a cylinder, W: its widest shadow, 0.27 of its wall, under 1000 W/m2.
    ///   litres   of mash
    static double most_sunshine_w(const double litres) {
        constexpr double shadow = 0.27, clear_sky_w_per_m2 = 1000.0;
        return shadow * clear_sky_w_per_m2 * surface_m2(litres);
    }

    /// Sunshine at a time, W.
    static double sunshine_w(const Vessel& v, const double hour) { return v.sunshine_w == 0.0 ? 0.0 : daylight_w(v, hour); }

    /// The same on any scalar.
    template <class T>
    static T daylight_w(const Vessel& v, const T& hour) {
        using std::cos;
        const T height = cos(T(2.0 * std::numbers::pi * (hour - v.noon_hour) / hours_per_day));
        return v.sunshine_w * num::select(height > 0.0, height, T(0.0 * height));
    }
};

}  // namespace ferment
