// The answer of an order in a line or two: which loins are opened, what is missing, and how good the plan is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/orders/order_account.hpp>
#include <tranche/report/tables/order_tables.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// "A, B and C"; of more than `most` the rest by its number.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string names_in_words(const std::vector<std::string>& names, std::size_t most) {
    std::string words;
    const std::size_t shown = names.size() <= most ? names.size() : most - 1;
    for (std::size_t i = 0; i < shown; ++i) words += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    if (shown < names.size()) words += " and " + std::to_string(names.size() - shown) + " more";
    return words;
}

[[nodiscard]] TRANCHE_COLD inline std::string count_of(std::int64_t count, const std::string& one,
                                                       const std::string& many) {
    return std::to_string(count) + ' ' + (count == 1 ? one : many);
}

/// How good the plan is known to be.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string order_end_words(const order_account& account) {
    if (account.ended == order_end::proven) return "No other plan is better.";
    if (!std::isfinite(account.relative_gap)) return "Whether another plan is better is not known.";
    std::string words = "The best there can be is at most ";
    words += account.relative_gap < 1e-7 ? "a trifle"
                                         : percent_text(account.relative_gap, account.relative_gap < 0.01 ? 3 : 1);
    words += " better";
    if (has_money(account)) words += " (" + money_text(account.bound, account.currency) + ')';
    switch (account.ended) {
    case order_end::stopped: return words + "; planning was stopped.";
    case order_end::out_of_work: return words + "; planning met its limit of work.";
    case order_end::proven:
    case order_end::gap_reached:
    case order_end::gap_left: break;
    }
    return words + '.';
}

} // namespace detail

/// Which loins are opened and which stay whole; whether the order is filled, and what is missing; what it comes to, and how good the
/// plan is known to be. Of many loins only the numbers. Throws nothing but for lack of memory. O(loins + lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<std::string> order_lines(const order_account& account) {
    constexpr std::size_t most_names = 8;
    std::vector<std::string> open, whole;
    for (const order_loin_account& loin : account.loins)
        (loin.opened ? open : whole)
            .push_back(loin.name + (loin.count > 1 ? " (" + std::to_string(loin.count) + ')' : ""));
    std::vector<std::string> lines;
    const std::int64_t all = account.opened + account.unopened;
    std::string which = account.opened == 0 ? "Open none of " + detail::count_of(all, "loin", "loins")
                                            : "Open " + std::to_string(account.opened) + " of " +
                                                  detail::count_of(all, "loin", "loins");
    if (account.opened > 0 && open.size() <= most_names) which += ": " + detail::names_in_words(open, most_names);
    if (account.opened > 0 && account.unopened > 0 && whole.size() <= most_names)
        which +=
            "; " + detail::names_in_words(whole, most_names) + (account.unopened == 1 ? " stays" : " stay") + " whole";
    lines.push_back(which + '.');
    std::int64_t made = 0;
    std::vector<std::string> missing, over;
    for (const order_line_account& line : account.lines) {
        made += line.filled.made;
        const auto some = [&](std::int64_t count) { return std::to_string(count) + " × " + line.name; };
        if (line.filled.unfilled > 0)
            missing.push_back(some(line.filled.unfilled) +
                              (line.filled.most < line.at_least
                                   ? " (all loins together give " + std::to_string(line.filled.most) + ')'
                                   : ""));
        if (detail::left_over(line) > 0) over.push_back(some(detail::left_over(line)));
    }
    std::string what = detail::count_of(made, "portion", "portions");
    what += missing.empty() ? ": the order is filled" : "; missing: " + detail::names_in_words(missing, 20);
    if (!over.empty()) what += "; left over: " + detail::names_in_words(over, 20);
    lines.push_back(what + '.');
    if (detail::has_money(account))
        lines.push_back("The order comes to " + detail::money_text(account.total(), account.currency) +
                        ": what is sold and kept, less the loins that are opened" +
                        (missing.empty() ? "" : " and what is missing") + ". " + detail::order_end_words(account));
    else
        lines.push_back(detail::order_end_words(account));
    return lines;
}

} // namespace tranche
