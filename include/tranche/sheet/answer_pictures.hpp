// The pictures of the answer to a cut sheet as SVG, a file each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/cut_ruler.hpp>
#include <tranche/report/pictures/face_pictures.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>
#include <tranche/report/pictures/order_picture.hpp>
#include <tranche/report/pictures/waterfall.hpp>
#include <tranche/report/pictures/what_if_picture.hpp>
#include <tranche/sheet/answer_csv.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// The pictures of each loin: from_above.svg, from_the_side.svg, faces.svg, cut_ruler.svg (in one piece, at true
/// scale), waterfall.svg and what_if.svg (of the first alternative); of several loins with "loin_1_" in front, and so
/// on, of those that are opened. And thicknesses.svg, if thicknesses are compared, order.svg of an order. Throws as
/// those that draw them. Quantities are written in the units of the sheet; sizes of the ruler are millimetres.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<answer_file> answer_pictures(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    const kitchen_units units = kitchen_of(answer.sheet);
    std::vector<answer_file> files;
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        const loin_answer& loin = answer.loins[i];
        if (!loin.opened) continue;
        const std::string front = answer.loins.size() > 1 ? "loin_" + std::to_string(i + 1) + '_' : "";
        const auto add = [&](const char* name, std::string text) { files.push_back({front + name, std::move(text)}); };
        const cutting_plan& cuts = loin.planned.plan;
        const loin_outline outline = outline_of(loin.loin);
        add("from_above.svg", view_from_above_svg(cuts, outline, units));
        add("from_the_side.svg", view_from_side_svg(cuts, outline, units));
        add("faces.svg", faces_svg(cut_faces(loin.loin, cuts), cuts, units));
        add("cut_ruler.svg", cut_ruler_svg(cuts, units));
        if (!loin.settled) continue;
        if (loin.saved.empty())
            add("waterfall.svg", waterfall_svg(cost_breakdown(loin.settled->test), ""));
        else
            add("waterfall.svg",
                waterfall_svg(cost_breakdown(loin.saved.front(), loin.settled->test), loin.saved.front().against));
        if (const auto grids = detail::grids_of(loin, units); !grids.empty())
            add("what_if.svg", savings_grid_svg(grids.front(), units));
    }
    if (answer.order) files.push_back({"order.svg", order_svg(answer.order->account)});
    if (!answer.thicknesses.empty()) files.push_back({"thicknesses.svg", detail::thicknesses_picture(answer, units)});
    return files;
}

} // namespace tranche
