#pragma once
// What goes into one mash: grains and their masses.

#include <cmath>
#include <ferment/core/error.hpp>
#include <ferment/core/quantity.hpp>
#include <ferment/mash/grain.hpp>
#include <string>
#include <utility>
#include <vector>

namespace ferment {

/// One line of a bill.
struct BillItem {
    Grain grain;
    mass<> weight;

    friend bool operator==(const BillItem&, const BillItem&) = default;
};

/// The grains of one mash. Every line is a lot of its own: the doubts of two lines are independent, even of two sacks with one name.
class Bill {
public:
    Bill() = default;
    /// Throws as add does.
    explicit Bill(const std::vector<BillItem>& items) {
        for (const BillItem& item : items) {
            add(item.grain, item.weight);
        }
    }

    /// Adds a lot of grain.
    ///   weight   kg, more than zero
    /// Throws InputError for a mass that is no number or infinite, RangeError for one that is zero or negative, and as validate(grain) does.
    Bill& add(const Grain& grain, const mass<>& weight) {
        validate(grain);
        const double kg = weight.value();
        if (!std::isfinite(kg)) {
            throw InputError("mass of " + shortened(grain.name) + " is " + (std::isnan(kg) ? "not a number" : "infinite") + "; it must be more than 0 kg");
        }
        if (kg <= 0.0) {
            throw RangeError("mass of " + shortened(grain.name) + " " + format_quantity(kg, "kg") + " must be more than 0 kg");
        }
        detail::require_workable("mass of " + shortened(grain.name), kg, "kg");
        items_.push_back({grain, weight});
        return *this;
    }

    [[nodiscard]] const std::vector<BillItem>& items() const { return items_; }
    [[nodiscard]] bool empty() const { return items_.empty(); }

    /// All grain together.
    [[nodiscard]] mass<> total() const {
        double kg = 0.0;
        for (const BillItem& item : items_) {
            kg += item.weight.value();
        }
        return mass<>::from_value(kg);
    }

    friend bool operator==(const Bill&, const Bill&) = default;

private:
    std::vector<BillItem> items_;
};

namespace detail {

inline void require_grain(const Bill& bill) {
    if (bill.empty()) {
        throw InputError("the bill holds no grain; add at least one");
    }
}

}  // namespace detail
}  // namespace ferment
