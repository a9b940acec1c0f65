// What a saving depends on, and where it is zero: the break-even price, ready-cut price, wage and yield.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <optional>
#include <string>

#include <tranche/cost/savings/cutting_costs.hpp>
#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The net saving as a function of what may change, in working money, not rounded. With r the ready-cut price, B the
/// ready-cut weight that has as much that is wanted as the portions replaced, p the price paid, W the weight bought, t
/// the time and w the wage:
///
///     net saving = r B + other portions + by-products - p W - w t - costs of portions - costs of the loin
///
/// `make_or_buy` fills this in. Weights and times are zero or more, `portions` at most the weight bought, but for the
/// tolerance of the scales. Members throw nothing but what they say, and check nothing else: `validate` does. Breaking
/// even by setting the net saving to zero is common practice, no source.
template <currency C>
struct savings_terms {
    purchase<C> bought{};         ///< p and W
    unit_price<C> ready_price{};  ///< r
    mass equivalent{};            ///< B
    mass portions{};              ///< all portions, replaced or not
    money<C> other_portions{};    ///< at their own value
    money<C> by_products{};       ///< their credit; negative where disposal costs more
    money<C> costs_of_portions{}; ///< packaging and freezing, which grow with the portions
    money<C> costs_of_loin{};     ///< knife wear, which does not
    duration time{};              ///< t
    wage<C> pay{};                ///< w
    weighing_tolerance scale_tolerance{};

    /// The sum above, in the currency, not rounded; below zero cutting loses.
    [[nodiscard]] money<C> net_saving() const {
        return detail::unfused(ready_price * equivalent) + other_portions + by_products - bought.cost() -
               detail::unfused(time * pay) - costs_of_portions - costs_of_loin;
    }
    /// Portions out of what was bought, by weight: a plain share, of a weight bought above zero.
    [[nodiscard]] fraction yield() const { return portions / bought.weight; }

    /// The same at another price paid, money by mass.
    [[nodiscard]] savings_terms at_price(unit_price<C> paid) const {
        savings_terms changed = *this;
        changed.bought.price = paid;
        return changed;
    }
    /// The same at another ready-cut price, money by mass.
    [[nodiscard]] savings_terms at_ready_price(unit_price<C> asked) const {
        savings_terms changed = *this;
        changed.ready_price = asked;
        return changed;
    }
    /// The same at another wage, money by time.
    [[nodiscard]] savings_terms at_pay(wage<C> other) const {
        savings_terms changed = *this;
        changed.pay = other;
        return changed;
    }
    /// The same purchase with another yield y: all that belongs to the portions grows with y, all that belongs to the rest
    /// with 1 - y, and the mix of each stays as it is; time and the costs of the loin do not change. A rest that is not
    /// there is worth nothing. Throws `invalid_input` for a y that is no share, and where there are no portions.
    [[nodiscard]] savings_terms at_yield(fraction y) const {
        detail::require_share(y, "yield");
        if (!(portions > mass{})) throw invalid_input("portions", portions, "portions, to vary their yield");
        savings_terms changed = *this;
        const double more = y / yield(), less = yield() < 1.0 ? (1.0 - y) / (1.0 - yield()) : 0.0;
        changed.equivalent *= more;
        changed.portions *= more;
        changed.other_portions *= more;
        changed.costs_of_portions *= more;
        changed.by_products *= less;
        return changed;
    }
    /// The same, with the other portions worth nothing.
    [[nodiscard]] savings_terms without_other_portions() const {
        savings_terms changed = *this;
        changed.other_portions = money<C>{};
        return changed;
    }

    friend bool operator==(const savings_terms&, const savings_terms&) = default;
};

/// Throws `invalid_input` naming the field for what is not finite, or negative and may not be. Prices and costs are
/// zero or more, weights too and the one bought above zero; what the rest is worth is any finite sum.
template <currency C>
void validate(const savings_terms<C>& terms) {
    validate(terms.bought);
    detail::require_monetary<C>(terms.ready_price, "ready_price", "/kg");
    detail::require_not_negative(terms.equivalent, "equivalent");
    detail::require_not_negative(terms.portions, "portions");
    validate(terms.scale_tolerance);
    detail::require_not_heavier(terms.portions, terms.bought.weight, terms.scale_tolerance, "portions",
                                "at most the weight bought, ");
    for (const money<C>& worth : {terms.other_portions, terms.by_products})
        if (!std::isfinite(worth.value()))
            throw invalid_input("worth", detail::shown(worth.value()), "a finite sum of money");
    detail::require_monetary<C>(terms.costs_of_portions, "costs_of_portions", "");
    detail::require_monetary<C>(terms.costs_of_loin, "costs_of_loin", "");
    detail::require_not_negative(terms.time / hour, "time (h)");
    detail::require_monetary<C>(terms.pay * hour, "pay", "/h");
}

/// The value at which the net saving is zero, all else as it is. There is none where no possible value gets it there:
/// a price or a wage below zero, a yield outside of 0 to 1, or something that plays no part. Then cutting either saves
/// whatever the value is, or never does.
template <class Quantity>
struct break_even {
    std::optional<Quantity> at{};
    bool saves_anyway = false; ///< only without a value: whether cutting saves, or loses nothing, whatever it is

    friend bool operator==(const break_even&, const break_even&) = default;
};

namespace detail {

/// `value` if a price or a wage can be it.
template <class Quantity>
[[nodiscard]] break_even<Quantity> unless_negative(Quantity value, bool saves_below_zero) {
    if (value >= Quantity{} && std::isfinite(value.value())) return {.at = value};
    return {.at = std::nullopt, .saves_anyway = saves_below_zero};
}

template <currency C>
[[nodiscard]] bool saves(const savings_terms<C>& terms) {
    return terms.net_saving() >= money<C>{};
}

} // namespace detail

/// The price of the whole loin at which cutting breaks even: (net saving + p W) / W. None: it loses even if the loin is
/// free. Throws what `validate` throws. O(1), as all of these. Money by mass. Zero or more. Source: see
/// `savings_terms`.
template <currency C>
[[nodiscard]] break_even<unit_price<C>> break_even_price(const savings_terms<C>& terms) {
    validate(terms);
    return detail::unless_negative<unit_price<C>>(terms.at_price({}).net_saving() / terms.bought.weight, false);
}

/// The ready-cut price at which cutting breaks even: (r B - net saving) / B. None: it saves even if ready-cut meat is
/// free, or nothing is replaced. Money per mass. Throws what `validate` throws. Zero or more. Source: see
/// `savings_terms`.
template <currency C>
[[nodiscard]] break_even<unit_price<C>> break_even_ready_price(const savings_terms<C>& terms) {
    validate(terms);
    if (!(terms.equivalent > mass{})) return {.at = std::nullopt, .saves_anyway = detail::saves(terms)};
    return detail::unless_negative<unit_price<C>>(-terms.at_ready_price({}).net_saving() / terms.equivalent, true);
}

/// The wage at which cutting breaks even: (net saving + w t) / t. None: it loses even if the work is free, or takes no
/// time. Money per time. Throws what `validate` throws. Zero or more. Source: see `savings_terms`.
template <currency C>
[[nodiscard]] break_even<wage<C>> break_even_wage(const savings_terms<C>& terms) {
    validate(terms);
    if (!(terms.time > duration{})) return {.at = std::nullopt, .saves_anyway = detail::saves(terms)};
    return detail::unless_negative<wage<C>>(terms.at_pay({}).net_saving() / terms.time, false);
}

/// The yield of portions at which cutting breaks even; see `savings_terms::at_yield`, in which the net saving is
/// linear: with H(y) at yield y, -H(0) / (H(1) - H(0)). None: no yield of 0 to 1 gets there, or there are no portions.
/// A share of what was bought, by weight. Throws what `validate` throws. Source: see `savings_terms`.
template <currency C>
[[nodiscard]] break_even<fraction> break_even_yield(const savings_terms<C>& terms) {
    validate(terms);
    if (terms.portions > mass{}) {
        const money<C> none = terms.at_yield(0.0).net_saving(), all = terms.at_yield(1.0).net_saving();
        if (all != none) { // or else the yield plays no part
            const fraction y = -none / (all - none);
            if (y >= 0.0 && y <= 1.0) return {.at = y};
        }
    }
    return {.at = std::nullopt, .saves_anyway = detail::saves(terms)};
}

} // namespace tranche
