// The cautions that belong on every report: food and knives can hurt people.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <vector>

namespace tranche {

/// One caution a line. Temperatures are the US federal minimums for consumers, as the USDA Food Safety and Inspection
/// Service gives them in its "Safe Minimum Internal Temperature Chart"; cold storage as in its "Refrigeration and Food
/// Safety". In both °F and °C. Throws nothing.
[[nodiscard]] inline std::vector<std::string> cautions() {
    using namespace std::string_literals;
    return {
        "Keep raw meat at or under 40 °F (4 °C), and clean hands, board and knife before other food.",
        "Least internal temperatures for US consumers (USDA FSIS): steaks 145 °F (62.8 °C) with 3 minutes of rest, "s +
            "ground meat 160 °F (71.1 °C). Elsewhere other rules may hold.",
        "Cut away from the hand that holds the meat, with a sharp knife, a stable board and a guard or mail glove.",
        "Positions and weights are estimates: weigh every portion.",
        "Goods sold by weight need a legal-for-trade scale.",
        "Labels, fat limits and inspection follow local law and licensed practice; no report replaces them."};
}

} // namespace tranche
