// The board cards of an order: one for each way in which a loin is cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/orders/order.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/report/board_card.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A card of a loin, or of so many that are cut alike.
struct order_card {
    std::size_t loin = 0;   ///< index into the order's loins
    std::int64_t count = 1; ///< cut so
    std::string html{};     ///< `board_card`

    friend bool operator==(const order_card&, const order_card&) = default;
};

/// The board card of each opened loin, as `board_card`, headed by `title` and the name of the loin; loins drawn as their profiles have
/// them. Lays each out, O(cells) a loin. Throws as that, and `invalid_input` for a plan of another order.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::vector<order_card> order_cards(std::string_view title, const order<C>& wanted,
                                                               const order_plan<C>& plan,
                                                               const board_card_options& options = {}) {
    std::vector<order_card> cards;
    for (const opened_loin& opened : plan.opened) {
        const cutting_plan cuts = lay_out(wanted, opened);
        const order_loin<C>& loin = wanted.loins[opened.loin];
        std::string heading(title);
        heading += (heading.empty() ? "" : ", ") + loin.name;
        if (opened.count > 1) heading += " (" + std::to_string(opened.count) + " alike)";
        cards.push_back({opened.loin, opened.count, board_card(heading, cuts, outline_of(*loin.meat()), options)});
    }
    return cards;
}

} // namespace tranche
