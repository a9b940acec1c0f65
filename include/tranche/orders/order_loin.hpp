// A loin that an order may open, or a kind of which there are several alike.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/orders/loin_source.hpp>
#include <tranche/units/currency.hpp>

namespace tranche {

/// Whether a loin has to be opened.
enum class loin_opening {
    if_it_pays, ///< left unopened it keeps its worth
    first, ///< an offcut of an earlier day: left unopened it is worth nothing, so it is opened wherever that saves a cent
    always ///< it has to be opened, whatever becomes of it
};

/// One loin, or a kind of `count` loins alike. Loins that are alike are better said as one kind: it takes the room and the time of one.
template <currency C>
struct order_loin {
    std::string name{};     ///< not empty; unlike those of the others
    loin_source meat{};     ///< its profile
    std::int64_t count = 1; ///< of loins alike: 1 to 1,000,000
    money<C> worth{};       ///< of one, unopened: what opening it costs. Any finite value
    loin_opening opening = loin_opening::if_it_pays;
    std::optional<cutting_rules> rules{}; ///< its own, instead of those of the order
    std::map<std::string, quantity_range<length>>
        zones{};                        ///< by the name of a cut: its own, instead of the one of the spec
    std::vector<std::string> without{}; ///< names of cuts that it is not to give
};

} // namespace tranche
