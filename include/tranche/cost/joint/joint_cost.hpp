// Joint cost: what one purchase cost, shared out among the products that can only be made together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// By what the products share the joint cost. Constant margin is the "constant gross-margin percentage NRV method".
enum class joint_method { physical_measure, split_off_value, net_realisable_value, constant_margin };

/// "weight", "sales value at split-off" and so on, for tables. Any method; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(joint_method method) {
    switch (method) {
    case joint_method::physical_measure: return "weight";
    case joint_method::split_off_value: return "sales value at split-off";
    case joint_method::net_realisable_value: return "net realisable value";
    case joint_method::constant_margin: break;
    }
    return "constant gross margin";
}

/// One of the products. `split_off_value` is what all of it would sell for as it leaves the board; `final_value` what
/// it sells for once finished (tied, marinated, packed), if it is; `separable_cost` what finishing costs. Sums of
/// money, not prices; a value that is not known is left out, and only the methods that need it ask for it.
template <currency C>
struct joint_product {
    std::string name{};
    mass weight{};                                            ///< zero or more
    std::optional<money<C>> split_off_value{}, final_value{}; ///< zero or more
    money<C> separable_cost{};                                ///< zero or more

    /// What it sells for in the end: finished, or else as it is. Money, not rounded, zero or more; none where neither
    /// is known. Throws nothing.
    [[nodiscard]] std::optional<money<C>> sales_value() const { return final_value ? final_value : split_off_value; }
    /// What finishing it gains over selling it as it is: final value - separable cost - value at split-off. Below zero
    /// it is better sold as it is, whatever share of the joint cost it carries. Money of any sign; none where a value
    /// is missing. Source: as `allocate_joint_cost`. Throws nothing.
    [[nodiscard]] std::optional<money<C>> gain_of_finishing() const {
        if (!final_value || !split_off_value) return std::nullopt;
        return *final_value - separable_cost - *split_off_value;
    }

    friend bool operator==(const joint_product&, const joint_product&) = default;
};

/// Something of little value that is made along: its net value is credited to the joint cost before the products share
/// it. A net value below zero is a cost of disposal.
template <currency C>
struct joint_by_product {
    std::string name{};
    money<C> final_value{}, separable_cost{}; ///< finite

    friend bool operator==(const joint_by_product&, const joint_by_product&) = default;
};

/// A product with what it carries. The amounts of a line and of all lines add up exactly.
template <currency C>
struct joint_line {
    joint_product<C> product{};
    fraction share = 0.0; ///< of the basis of the method
    amount<C> joint_cost{};
    amount<C> separable_cost{};
    amount<C> total_cost{};            ///< joint + separable
    std::optional<amount<C>> sales{};  ///< none if the product has no value
    std::optional<amount<C>> margin{}; ///< sales - total cost
    /// Margin / sales. A share, below zero at a loss; none without sales. Throws nothing. Source: as
    /// `allocate_joint_cost`.
    [[nodiscard]] std::optional<fraction> margin_share() const {
        if (!margin || sales->minor == 0) return std::nullopt;
        return static_cast<double>(margin->minor) / static_cast<double>(sales->minor);
    }

    friend bool operator==(const joint_line&, const joint_line&) = default;
};

/// Joint cost = credit + Σ of the lines' joint cost, to the minor unit.
template <currency C>
struct joint_allocation {
    joint_method method = joint_method::physical_measure;
    amount<C> joint_cost{}; ///< before by-products are credited
    amount<C> credit{};     ///< Σ of the by-products' net values, each rounded
    amount<C> shared{};     ///< joint cost - credit
    std::vector<joint_line<C>> lines{};

    friend bool operator==(const joint_allocation&, const joint_allocation&) = default;
};

namespace detail {

/// Whole numbers in the proportion of `basis` (finite, zero or more, not all zero) to 15 digits of its sum. A power of
/// ten scales them, so that sums of money in whole cents stay in proportion exactly and ties remain ties. O(n).
[[nodiscard]] inline std::vector<std::int64_t> in_proportion(const std::vector<double>& basis, std::string_view what) {
    double sum = 0.0, scale = 1.0, divisor = 1.0;
    for (const double b : basis) sum += b;
    if (!std::isfinite(sum)) throw invalid_input(std::string(what), "a sum beyond 1.8e308", "a sum that can be held");
    while (sum * scale * 10.0 < 9e15 && scale < 1e22) scale *= 10.0;
    while (sum / divisor >= 9e15) divisor *= 10.0;
    std::vector<std::int64_t> counts;
    for (const double b : basis) counts.push_back(std::llround(b * scale / divisor));
    if (std::all_of(counts.begin(), counts.end(), [](std::int64_t c) { return c == 0; }))
        throw invalid_input(std::string(what), "none above zero", "at least one product with more than nothing");
    return counts;
}

/// The basis of each product in whole numbers.
template <currency C>
[[nodiscard]] std::vector<std::int64_t> joint_basis(const std::vector<joint_product<C>>& products,
                                                    joint_method method) {
    const auto needed = [](const std::optional<money<C>>& value, const std::string& field) {
        if (!value) throw invalid_input(field, "none", "a value, because the joint cost is shared by it");
        return value->value();
    };
    const auto basis_of = [&](const joint_product<C>& p) -> double {
        switch (method) {
        case joint_method::physical_measure: return p.weight / kilogram;
        case joint_method::split_off_value: return needed(p.split_off_value, p.name + ": split_off_value");
        case joint_method::net_realisable_value:
            return std::max(0.0, needed(p.sales_value(), p.name + ": final_value") - p.separable_cost.value());
        case joint_method::constant_margin: break;
        }
        return needed(p.sales_value(), p.name + ": final_value");
    };
    std::vector<double> basis;
    for (const joint_product<C>& p : products) basis.push_back(basis_of(p));
    return in_proportion(basis, name_of(method));
}

} // namespace detail

/// Shares a joint cost J, less the net values of the by-products, among the products (Horngren, Datar and Rajan, Cost
/// Accounting, 14th edition, chapter 16). With s the sales value in the end and e the separable cost of each:
///
/// - weight, sales value at split-off: in proportion to that (the "physical measure" is a weight here; any other that is
///   proportional to a weight, such as cups of one liquid, gives the same);
/// - net realisable value: in proportion to s - e;
/// - constant margin: total costs in proportion to s, so that all have the margin of the whole; joint = total - e.
///
/// A product whose net realisable value is below zero carries no joint cost: its basis is zero, and its own loss shows
/// in its margin. In proportion to values of 100 and -20 a joint cost of 80 would be 100 and -20: the other product
/// would pay for it, and the loss of 20 would vanish. Under constant margin a product may carry a negative joint cost;
/// the same chapter (page 586, read in a quotation) says that it is the only method under which one may.
///
/// Amounts are shared by largest remainder, ties to the earlier product, and add up exactly. By-products worth more
/// than the joint cost leave a negative amount, which is shared the same way. Throws `invalid_input`, naming the
/// product, for no products, a weight or value that is negative, not finite, or missing where the method needs it;
/// naming the method, for a basis of only zeros; and for amounts that 64 bits do not hold. O(n log n). `joint_cost` is
/// any amount, in minor units; weights, values and costs are zero or more and rounded as `how` says.
template <currency C>
[[nodiscard]] joint_allocation<C> allocate_joint_cost(amount<C> joint_cost,
                                                      const std::vector<joint_product<C>>& products,
                                                      joint_method method,
                                                      const std::vector<joint_by_product<C>>& by_products = {},
                                                      rounding how = rounding::half_even) {
    if (products.empty()) throw invalid_input("products", "none", "at least one");
    for (const joint_product<C>& p : products) {
        detail::require_not_negative(p.weight, p.name + ": weight");
        if (p.split_off_value) detail::require_money<C>(*p.split_off_value, p.name + ": split_off_value");
        if (p.final_value) detail::require_money<C>(*p.final_value, p.name + ": final_value");
        detail::require_money<C>(p.separable_cost, p.name + ": separable_cost");
    }
    joint_allocation<C> result{.method = method, .joint_cost = joint_cost, .shared = joint_cost};
    const auto finite = [](money<C> value, const std::string& field) {
        if (!std::isfinite(value.value()))
            throw invalid_input(field, detail::shown(value.value()) + ' ' + std::string(C::code),
                                "a finite sum of money");
    };
    for (const joint_by_product<C>& b : by_products) {
        finite(b.final_value, b.name + ": final_value");
        finite(b.separable_cost, b.name + ": separable_cost");
        result.credit += rounded<C>(b.final_value - b.separable_cost, how, "net value of a by-product");
    }
    result.shared -= result.credit;

    const std::vector<std::int64_t> basis = detail::joint_basis(products, method);
    double basis_sum = 0.0;
    for (const std::int64_t b : basis) basis_sum += static_cast<double>(b);
    amount<C> to_split = result.shared;
    for (std::size_t i = 0; i < products.size(); ++i) {
        joint_line<C> line{.product = products[i], .share = static_cast<double>(basis[i]) / basis_sum};
        line.separable_cost = rounded<C>(products[i].separable_cost, how, "separable cost");
        if (const auto sales = products[i].sales_value()) line.sales = rounded<C>(*sales, how, "sales value");
        if (method == joint_method::constant_margin) to_split += line.separable_cost;
        result.lines.push_back(line);
    }
    const std::vector<amount<C>> parts = split(to_split, std::span<const std::int64_t>(basis));
    for (std::size_t i = 0; i < parts.size(); ++i) {
        joint_line<C>& line = result.lines[i];
        const bool of_total = method == joint_method::constant_margin;
        line.joint_cost = of_total ? parts[i] - line.separable_cost : parts[i];
        line.total_cost = line.joint_cost + line.separable_cost;
        if (line.sales) line.margin = *line.sales - line.total_cost;
    }
    return result;
}

} // namespace tranche
