// What a cut sheet says of an order, key by key.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/detail/document/cutting_keys.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
TRANCHE_COLD void order_fields(field_visitor& io, sheet_order& order) {
    number_wanted(io, order.at_least, order.at_most, "how many are ordered, such as 12, at least 8 or 8 to 12");
    io.price("unfilled costs", order.unfilled);
    io.price("left over is worth", order.left_over);
}

} // namespace tranche::detail
