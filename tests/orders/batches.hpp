// Small random orders over unlike loins, the same for a seed everywhere; all figures invented.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include <tranche/cut/plan_worth.hpp>
#include <tranche/orders.hpp>

#include "optimise/instances.hpp"

namespace tranche_test {

/// Loins of `least` to `most` cells, two to four cuts, rules and prices, some of them in every way that there is.
[[nodiscard]] inline order<usd> random_order(dice& d, std::size_t loins, std::size_t least, std::size_t most) {
    order<usd> wanted;
    const length step = detail::snapped(d.between(5.0, 25.0) * millimetre);
    const profile first = random_profile(d, d.whole(least, most), step);
    const std::size_t lines = d.whole(2, 4);
    const auto cents = [&](double low, double high) {
        return money<usd>::from_value(std::round(100.0 * d.between(low, high)) / 100.0);
    };
    for (std::size_t j = 0; j < lines; ++j) {
        order_line<usd> line{.cut = random_spec(d, first, std::string("cut ") + static_cast<char>('A' + j), 1.0, 5.0)};
        line.at_least = static_cast<std::int64_t>(d.whole(0, 2 * loins));
        line.at_most = line.at_least + static_cast<std::int64_t>(d.once_in(2) ? 0 : d.whole(0, loins));
        if (d.once_in(5)) line.at_most = demand::any_number;
        if (d.once_in(3)) line.price.by_weight = unit_price<usd>::from_value(std::round(d.between(0.0, 20.0)));
        line.price.each = d.once_in(2) ? cents(0.0, 9.0) : money<usd>{};
        line.unfilled = cents(0.0, 15.0);
        if (d.once_in(3)) {
            line.carried = static_cast<std::int64_t>(d.whole(0, loins));
            line.carry_over = 0.5 * line.price.each;
        }
        line.surplus = d.once_in(3) ? -cents(0.0, 2.0) : 0.25 * line.price.each;
        wanted.lines.push_back(line);
    }
    const auto per_kilogram = [&](double low, double high) {
        return unit_price<usd>::from_value(std::round(100.0 * d.between(low, high)) / 100.0);
    };
    for (const destination to : all_destinations)
        if (!d.once_in(4)) wanted.by_products[to] = per_kilogram(-1.0, 6.0);
    if (d.once_in(3)) wanted.labour = {.slab = cents(0.0, 0.3), .portion = cents(0.0, 0.3), .trimmed = cents(0.0, 0.3)};
    wanted.rules = random_rules(d, first, 3.0);
    if (d.once_in(4))
        wanted.remnant =
            kept_remnant<usd>{.least_thickness = d.between(2.0, 6.0) * step, .value = per_kilogram(4.0, 12.0)};
    for (std::size_t i = 0; i < loins; ++i) {
        profile meat = i == 0 ? first : random_profile(d, d.whole(least, most), step);
        const double paid = d.between(4.0, 14.0) * to_mass(meat.total()).value();
        order_loin<usd> loin{.name = "loin " + std::to_string(i + 1),
                             .meat = std::move(meat),
                             .worth = money<usd>::from_value(std::round(100.0 * paid) / 100.0)};
        if (d.once_in(6)) loin.count = 2;
        if (d.once_in(6)) loin.opening = d.once_in(2) ? loin_opening::first : loin_opening::always;
        if (d.once_in(6)) loin.without.push_back(wanted.lines[d.whole(0, lines - 1)].cut.name);
        if (d.once_in(6)) loin.zones[wanted.lines[0].cut.name] = {2.0 * step, unlimited<length>()};
        if (wanted.rules.facing >= loin.meat()->extent()) loin.rules = cutting_rules{};
        wanted.loins.push_back(std::move(loin));
    }
    return wanted;
}

/// What the parts of a plan are worth by the prices of the order, added up anew from weights on paper; NaN where it has what was not
/// asked for, or breaks a limit.
[[nodiscard]] inline double value_on_paper(const order<usd>& wanted, const order_plan<usd>& plan) {
    double value = 0.0;
    std::vector<std::int64_t> made(wanted.lines.size());
    price_list<usd> prices = prices_of(wanted);
    for (const opened_loin& opened : plan.opened) {
        const order_loin<usd>& loin = wanted.loins[opened.loin];
        const cutting_plan cuts = lay_out(wanted, opened);
        const auto [specs, rules] = request_of(wanted, opened.loin);
        const auto faults = verify(cuts, *loin.meat(), specs, rules);
        for (const std::string& fault : faults) WARN(fault);
        if (!faults.empty()) return std::nan("");
        double worth = worth_of<usd>(cuts, prices).value();
        for (const slab& s : cuts.slabs) {
            if (s.kind != slab_kind::portions || s.option >= made.size()) continue;
            made[s.option] += opened.count * cuts.spec_of(s).pieces;
            worth -= wanted.labour.of(cuts.spec_of(s)).value();
        }
        if (loin.opening != loin_opening::first) worth -= loin.worth.value();
        value += static_cast<double>(opened.count) * worth;
    }
    for (std::size_t j = 0; j < made.size(); ++j) {
        const order_line<usd>& line = wanted.lines[j];
        if (plan.lines[j].made != made[j]) return std::nan("");
        const std::int64_t above = std::max<std::int64_t>(0, made[j] - line.at_most),
                           carried = std::min(above, line.carried);
        value += static_cast<double>(std::min(made[j], line.at_most)) * line.price.each.value();
        value -= static_cast<double>(std::max<std::int64_t>(0, line.at_least - made[j])) * line.unfilled.value();
        value += static_cast<double>(carried) * line.carry_over.value() +
                 static_cast<double>(above - carried) * line.surplus.value();
    }
    return value;
}

} // namespace tranche_test
