// An order and its plan as JSON, for programs in other languages.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

#include <nlohmann/json.hpp>

#include <tranche/optimise/request/demand.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/tables/order_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

[[nodiscard]] constexpr std::string_view name_of(order_end ended) {
    switch (ended) {
    case order_end::proven: return "proven";
    case order_end::gap_reached: return "gap reached";
    case order_end::gap_left: return "gap left";
    case order_end::out_of_work: return "out of work";
    case order_end::stopped: break;
    }
    return "stopped";
}

[[nodiscard]] inline double json_grams(micrograms m) { return static_cast<double>(m.count) / 1e6; }

/// What an account says, without the slabs of its loins.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD nlohmann::ordered_json json_of(const order_account& account) {
    using json = nlohmann::ordered_json;
    const bool money = has_money(account);
    json j{{"filled", account.filled()}, {"ended", name_of(account.ended)}};
    if (std::isfinite(account.relative_gap)) j["relative_gap"] = account.relative_gap; // JSON has no infinity
    if (money) j["currency"] = account.currency.code;
    const auto put = [&](json& to, const char* key, std::int64_t minor) {
        if (money) to[key] = money_number(minor, account.currency);
    };
    put(j, "worth", account.total());
    put(j, "bound", account.bound);
    j["opened"] = account.opened;
    j["unopened"] = account.unopened;
    for (const order_line_account& line : account.lines) {
        json row{{"product", line.name}, {"at_least", line.at_least}};
        if (line.at_most != demand::any_number) row["at_most"] = line.at_most;
        row["cut"] = line.filled.made;
        row["missing"] = line.filled.unfilled;
        row["left_over"] = left_over(line);
        row["most"] = line.filled.most;
        row["weight_g"] = json_grams(line.weight);
        if (line.filled.made > 0) {
            row["lightest_g"] = json_grams(line.lightest);
            row["heaviest_g"] = json_grams(line.heaviest);
        }
        put(row, "by_piece", line.by_piece);
        put(row, "by_weight", line.by_weight);
        put(row, "left_over_worth", line.left_over);
        put(row, "missing_cost", line.unfilled);
        put(row, "one_more_costs", line.last_portion);
        j["lines"].push_back(std::move(row));
    }
    for (const order_loin_account& loin : account.loins) {
        json row{{"loin", loin.name}, {"loins", loin.count}, {"opened", loin.opened}};
        put(row, "worth_whole", loin.worth);
        if (loin.opened) {
            for (std::size_t line = 0; line < loin.portions.size(); ++line)
                if (loin.portions[line] > 0) row["portions"][account.lines[line].name] = loin.portions[line];
            row["whole_g"] = json_grams(loin.whole);
            row["portions_g"] = json_grams(loin.in_portions);
            row["remnant_g"] = json_grams(loin.remnant);
            row["loose_g"] = json_grams(loin.loose);
            row["trim_g"] = json_grams(loin.trim);
            row["cutting_loss_g"] = json_grams(loin.cutting_loss);
            put(row, "gives", loin.gives);
        }
        j["loins"].push_back(std::move(row));
    }
    if (money)
        for (const auto& [what, minor] : order_money(account))
            j["money"].push_back({{"what", what}, {"amount", money_number(minor, account.currency)}});
    return j;
}

} // namespace detail

/// The account of an order as JSON text (RFC 8259), two spaces a level, its members in a fixed order: weights in grams to the
/// microgram, sums of money as text such as "18.50". Without a currency there is no money, and a gap that is not known is left out.
/// Bytes that are no UTF-8 are replaced. Throws nothing but for lack of memory. O(loins × lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_json(const order_account& account) {
    nlohmann::ordered_json j{{"format", "tranche order 1"}};
    j.update(detail::json_of(account));
    return j.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + '\n';
}

} // namespace tranche
