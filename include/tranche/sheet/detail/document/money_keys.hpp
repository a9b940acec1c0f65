// What a cut sheet says of money and of what it is compared with, key by key.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <tranche/sheet/detail/document/cutting_keys.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
TRANCHE_COLD void worth_fields(field_visitor& io, by_destination<std::optional<sheet_price>>& worth) {
    for (const destination d : all_destinations) io.value(name_of(d), worth[d]);
}

template <class = when_called>
TRANCHE_COLD void labour_fields(field_visitor& io, cutting_labour<chosen_currency>& labour) {
    io.price("slab", labour.slab);
    io.price("portion", labour.portion);
    io.price("trimmed portion", labour.trimmed);
}

template <class = when_called>
TRANCHE_COLD void edible_fields(field_visitor& io, edible_basis& basis) {
    const edible_basis otherwise;
    for (const auto& [key, t] :
         {std::pair("gluteus medius", tissue::gluteus_medius), std::pair("fat cover", tissue::fat_cover),
          std::pair("tail", tissue::tail), std::pair("silverskin", tissue::connective)})
        share_field(io, key, basis.counts[t], otherwise.counts[t]);
}

template <class = when_called>
TRANCHE_COLD void costs_fields(field_visitor& io, cutting_costs<chosen_currency>& costs) {
    io.value("time", costs.time);
    io.check({{"", "time"}}, [&] { require_not_negative(costs.time / minute, ""); });
    io.price("wage", costs.pay);
    io.price("packaging each", costs.packaging);
    io.price("freezing", costs.freezing);
    share_field(io, "frozen", costs.frozen, 1.0);
    io.price("knife wear", costs.knife_wear);
}

/// A share above zero.
template <class = when_called>
TRANCHE_COLD void some_share_field(field_visitor& io, std::string_view key, std::optional<fraction>& of) {
    share_field(io, key, of);
    io.check({{"", std::string(key)}}, [&] {
        if (of && !(*of > 0.0)) throw invalid_input("", shown(*of), "a share above zero");
    });
}

template <class = when_called>
TRANCHE_COLD void compare_fields(field_visitor& io, sheet_alternative& other) {
    std::optional<sheet_price> price = other.ready.price;
    io.price("price", price, "the ready-cut price per weight");
    other.ready.price = price.value_or(sheet_price{});
    io.names("replaces", other.ready.replaces);
    some_share_field(io, "edible share", other.ready.edible_share);
    ready_cut_look look = other.look.value_or(ready_cut_look{});
    trim_fields(io, look.trim, other.look.has_value());
    share_field(io, "gluteus medius", look.gluteus_medius);
    const bool looks =
        io.has("fat cover") || io.has("tail") || io.has("silverskin") || io.has("over-cut") || io.has("gluteus medius");
    io.check({{"", "edible share"}}, [&] {
        if (looks && other.ready.edible_share)
            throw invalid_input("", "", "either that share, or fat cover, tail, silverskin and gluteus medius");
        if (looks) other.look = look;
    });
}

template <class = when_called>
TRANCHE_COLD void offer_fields(field_visitor& io, sheet_offer& other) {
    std::optional<sheet_price> price = other.bought.price;
    io.price("price", price, "the price per weight");
    other.bought.price = price.value_or(sheet_price{});
    io.required_value("weight", other.bought.weight, "the weight on offer, such as 12 lb");
    io.check({{"", "weight"}}, [&] { require_positive(other.bought.weight, ""); });
    io.required_value("yield", other.yield, "portions out of that weight, such as 70 %");
    io.check({{"", "yield"}}, [&] {
        if (!(other.yield > 0.0 && other.yield <= 1.0))
            throw invalid_input("", shown(other.yield), "a share above zero, at most 100 %");
    });
    std::optional<fraction> edible = other.edible_share == 1.0 ? std::nullopt : std::optional(other.edible_share);
    some_share_field(io, "edible share", edible);
    other.edible_share = edible.value_or(1.0);
    io.value("rest is worth", other.rest);
    io.value("time", other.time);
    io.check({{"", "time"}}, [&] { require_not_negative(other.time / minute, ""); });
}

template <class = when_called>
TRANCHE_COLD void grind_fields(field_visitor& io, sheet_grind& grind) {
    io.required_value("fat", grind.fat, "how fat the grind is to be, such as 20 %");
    io.required_value("lean fat", grind.lean_fat, "how fat the lean meat is that is added, such as 10 %");
    io.check({{"fat", "fat"}, {"lean", "lean fat"}}, [&] {
        if (!(grind.fat > 0.0 && grind.fat < 1.0))
            throw invalid_input("fat", shown(grind.fat), "a share above 0, below 100 %");
        if (!(grind.lean_fat >= 0.0 && grind.lean_fat < grind.fat))
            throw invalid_input("lean", shown(grind.lean_fat), "a share below the fat that is wanted");
    });
    io.price("lean price", grind.lean_price);
}

template <class = when_called>
TRANCHE_COLD void menu_fields(field_visitor& io, sheet_menu& menu) {
    some_share_field(io, "food cost", menu.food_cost);
    io.price("rest of the plate", menu.rest_of_plate);
}

template <class = when_called>
TRANCHE_COLD void case_fields(field_visitor& io, sheet_case& retail) {
    const auto below_one = [&](std::string_view key, fraction of) {
        io.check({{"", std::string(key)}}, [&] {
            if (!(of >= 0.0 && of < 1.0)) throw invalid_input("", shown(of), "a share from 0 to below 100 %");
        });
    };
    io.value("margin", retail.margin);
    below_one("margin", retail.margin.value_or(0.0));
    io.value("shrink", retail.shrink);
    below_one("shrink", retail.shrink);
    io.choice<cost_share>("share cost by", retail.share_cost_by,
                          {{"weight", cost_share::weight}, {"sales value", cost_share::sales_value}},
                          cost_share::weight);
    io.value("tare", retail.tare);
    io.check({{"", "tare"}}, [&] { require_not_negative(retail.tare, ""); });
    io.value("packed on", retail.packed_on);
    io.value("sell by", retail.sell_by);
    io.check({{"", "sell by"}}, [&] {
        if (retail.packed_on && retail.sell_by && *retail.sell_by < *retail.packed_on)
            throw invalid_input("", date_text(*retail.sell_by),
                                "no day before it was packed on " + date_text(*retail.packed_on));
    });
}

} // namespace tranche::detail
