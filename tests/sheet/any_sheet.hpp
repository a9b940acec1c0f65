// Any cut sheet that can be: every field of it set or not, with round figures and with odd ones.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

class sheet_maker {
public:
    explicit sheet_maker(std::uint64_t seed) : random_(seed) {}

    [[nodiscard]] tranche::cut_sheet sheet() {
        using namespace tranche;
        cut_sheet s;
        if (maybe()) s.title = words();
        const bool money = random_() % 4 != 0;
        if (money) s.currency = iso_currency_named(one_of<const char*>({"USD", "EUR", "JPY", "KWD", "CLF"}));
        s.units = one_of<sheet_units>({sheet_units::us, sheet_units::decimal_pounds, sheet_units::metric});
        if (maybe()) s.date = day();
        if (maybe()) s.cutter = words();
        const std::size_t loins = 1 + random_() % 3;
        for (std::size_t i = 0; i < loins; ++i) s.loins.push_back(loin(loins == 1 && maybe() ? "" : name(i), money));

        if (maybe()) s.grid = some_length(0.001, 0.02);
        s.rules = rules();
        const bool side_by_side = random_() % 4 == 0;
        const std::size_t cuts = side_by_side ? 1 : 1 + random_() % 4;
        for (std::size_t i = 0; i < cuts; ++i) s.cuts.push_back(cut(name(i), money, grid_of(s)));
        if (side_by_side) s.thicknesses = {some_length(0.01, 0.05), some_length(0.01, 0.05)};
        std::vector<sheet_aim> aims{sheet_aim::most_portions, sheet_aim::least_waste, sheet_aim::even_portions,
                                    sheet_aim::fewest_settings};
        bool priced = true, charged = true;
        for (const sheet_cut& c : s.cuts) {
            priced = priced && (c.price || c.price_each);
            charged = charged && (c.charged_as || c.spec.portion.min > mass{});
        }
        if (priced) aims.push_back(sheet_aim::best_value);
        if (charged) aims.push_back(sheet_aim::least_giveaway);
        s.plan_for = one_of(aims);
        if (s.plan_for == sheet_aim::even_portions) {
            if (maybe()) s.portions = 1 + static_cast<std::int64_t>(random_() % 30);
            if (maybe()) s.even_within = some_mass(0.0, 0.05);
        }
        if (maybe())
            for (std::size_t then = 1; then < s.cuts.size(); ++then)
                for (std::size_t first = 0; first < then; ++first)
                    s.rules.order.push_back({s.cuts[first].spec.name, s.cuts[then].spec.name});
        orders(s, money);
        for (const tissue t : all_tissues)
            if (t != tissue::eye && maybe()) s.basis.counts[t] = some_share();
        if (random_() % 3 == 0) s.grind = sheet_grind{.fat = 0.2, .lean_fat = 0.1 * some_share()};
        if (random_() % 3 == 0) s.menu.emplace();
        if (random_() % 3 == 0) {
            s.retail.emplace();
            if (maybe()) s.retail->margin = 0.5 * some_share();
            s.retail->shrink = maybe() ? 0.0 : 0.5 * some_share();
            s.retail->share_cost_by = one_of<cost_share>({cost_share::weight, cost_share::sales_value});
            if (maybe()) s.retail->tare = some_mass(0.0, 0.05);
            if (maybe()) s.retail->packed_on = day();
            if (maybe() && !s.retail->packed_on) s.retail->sell_by = day();
        }
        if (random_() % 3 == 0) {
            s.study.emplace();
            if (maybe()) s.study->loins = 50 + static_cast<std::int64_t>(random_() % 1000);
            s.study->sure = maybe() ? 0.9 : 0.05 + 0.9 * some_share();
            if (maybe()) s.study->knife = some_length(0.0, 0.003);
            s.study->by_marks = maybe();
            s.study->plan_once = maybe();
            s.study->stated_only = maybe();
            if (maybe()) s.study->fat_left_spread = some_length(0.0, 0.003);
            for (std::optional<tranche::fraction>* spread :
                 {&s.study->weight_spread, &s.study->length_spread, &s.study->depth_spread, &s.study->fat_cover_spread,
                  &s.study->tail_spread, &s.study->price_spread, &s.study->worth_spread})
                if (maybe()) *spread = 0.5 * some_share();
        }
        if (maybe()) s.costs.time = some(0.0, 300.0) * minute;
        if (!money) return s;
        for (const destination d : all_destinations)
            if (maybe()) s.by_products[d] = some_price(-2.0, 9.0);
        if (maybe())
            s.labour = {.slab = some_money(0.0, 2.0), .portion = some_money(0.0, 2.0), .trimmed = some_money(0.0, 2.0)};
        s.costs.frozen = maybe() ? 1.0 : some_share();
        if (maybe()) s.costs.pay = some_money(0.0, 40.0) / hour;
        if (maybe()) s.costs.packaging = some_money(0.0, 1.0);
        if (maybe()) s.costs.freezing = some_price(0.0, 1.0);
        if (maybe()) s.costs.knife_wear = some_money(0.0, 2.0);
        if (s.grind && maybe()) s.grind->lean_price = some_price(0.0, 9.0);
        if (s.menu && maybe())
            s.menu = sheet_menu{.food_cost = 0.1 + 0.5 * some_share(), .rest_of_plate = some_money(0.0, 5.0)};
        for (std::size_t i = random_() % 3; i > 0; --i) s.alternatives.push_back(alternative(name(i), s));
        for (std::size_t i = random_() % 3; i > 0; --i)
            s.offers.push_back({.name = name(i),
                                .bought = {some_mass(1.0, 20.0), some_price(0.0, 20.0)},
                                .yield = 0.1 + 0.9 * some_share(),
                                .edible_share = maybe() ? 1.0 : 0.1 + 0.9 * some_share(),
                                .rest = some_price(-1.0, 4.0),
                                .time = some(0.0, 90.0) * minute});
        return s;
    }

private:
    [[nodiscard]] bool maybe() { return random_() % 2 == 0; }
    template <class T>
    [[nodiscard]] T one_of(const std::vector<T>& all) {
        return all[random_() % all.size()];
    }
    /// Of any last bit.
    [[nodiscard]] double some(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random_);
    }
    /// Round as people write it, or as some program left it.
    [[nodiscard]] tranche::mass some_mass(double low, double high) {
        using namespace tranche;
        const double kg = some(low, high);
        switch (random_() % 4) {
        case 0: return std::ceil(kg / ounce.value() * 4.0) / 4.0 * ounce;
        case 1: return std::ceil(kg * 1000.0) * gram;
        case 2: return std::ceil(kg / pound.value() * 100.0) / 100.0 * pound;
        default: return kg * kilogram;
        }
    }
    [[nodiscard]] tranche::length some_length(double low, double high) {
        using namespace tranche;
        const double m = some(low, high);
        switch (random_() % 3) {
        case 0: return std::ceil(m / inch.value() * 16.0) / 16.0 * inch;
        case 1: return std::ceil(m * 1000.0) * millimetre;
        default: return m * metre;
        }
    }
    [[nodiscard]] double some_share() {
        switch (random_() % 3) {
        case 0: return static_cast<double>(random_() % 101) / 100.0;
        case 1: return 1.0;
        default: return some(0.0, 1.0);
        }
    }
    [[nodiscard]] tranche::sheet_money some_money(double low, double high) {
        const double value = some(low, high);
        return tranche::sheet_money::from_value(maybe() ? std::round(value * 100.0) / 100.0 : value);
    }
    [[nodiscard]] tranche::sheet_price some_price(double low, double high) {
        return some_money(low, high) / (maybe() ? tranche::pound : tranche::kilogram);
    }
    template <class Quantity>
    [[nodiscard]] tranche::quantity_range<Quantity> some_range(Quantity one, Quantity other, bool needs_lower = false) {
        switch (random_() % 5) {
        case 0: return {one, one};
        case 1: return {one, tranche::unlimited<Quantity>()};
        case 2:
            if (!needs_lower) return {Quantity{}, one};
            [[fallthrough]];
        default: return {std::min(one, other), std::max(one, other)};
        }
    }
    [[nodiscard]] std::chrono::year_month_day day() {
        return std::chrono::year(static_cast<int>(random_() % 10'000)) / static_cast<int>(1 + random_() % 12) /
               static_cast<int>(1 + random_() % 28);
    }
    /// What could be taken for something else.
    [[nodiscard]] std::string words() {
        static const std::vector<std::string> odd{"Friday",      "a; b",    "x ; y",       "; front",
                                                  "# 4",         "Loin #4", "no # remark", "\"quoted\" at the front",
                                                  "ends \"so\"", "[odd]",   "a = b: c",    "½ é 肉",
                                                  "a, \"b\"",    "\"",      "\"\"",        ",",
                                                  "] x [",       "a \"]\"", "\"]\" ; [x]", "12 lb 2 oz",
                                                  "a to b",      "yes",     "at least",    "'"};
        return odd[random_() % odd.size()];
    }
    /// One that no other `i` has.
    [[nodiscard]] std::string name(std::size_t i) {
        const std::string number = std::to_string(i);
        return maybe() ? number + words() : words() + number;
    }
    [[nodiscard]] tranche::trim_spec trim() {
        tranche::trim_spec t;
        if (maybe()) t.fat_cover = some_length(0.0, 0.01);
        if (maybe()) t.tail = some_length(0.0, 0.05);
        if (random_() % 4 == 0) t.tail = {some_length(0.0, 0.05), some_length(0.0, 0.05)};
        t.silverskin = maybe();
        if (maybe()) t.over_cut = some_length(0.0, 0.003);
        return t;
    }
    [[nodiscard]] tranche::sheet_loin loin(const std::string& name, bool money) {
        using namespace tranche;
        sheet_loin l{.name = name, .weight = some_mass(4.0, 8.0)};
        if (maybe()) l.on_the_board = 0.9 * l.weight;
        if (money && maybe()) l.price = some_price(0.0, 20.0);
        if (maybe()) l.length = some_length(0.4, 0.5);
        if (maybe()) l.lot = words();
        if (maybe()) l.supplier = words();
        if (maybe()) l.on_arrival = maybe() ? temperature::from_fahrenheit(38.0) : temperature{some(-2.0, 9.0)};
        if (!l.length || maybe()) {
            if (maybe())
                l.kind = one_of<const char*>({"beef strip loin", "boneless pork loin", "lamb loin", "tuna loin"});
            const double lighter = l.kind == "lamb loin" ? 0.2 : l.kind == "boneless pork loin" ? 0.8 : 1.0;
            l.weight = lighter * l.weight; // as loins of the kind are
            if (l.on_the_board) l.on_the_board = 0.9 * l.weight;
            return l;
        }
        for (std::size_t i = 1 + random_() % 3; i > 0; --i)
            l.stations.push_back({.at = some_length(0.1, 0.12) * static_cast<double>(l.stations.size()),
                                  .width = some_length(0.2, 0.25),
                                  .depth = some_length(0.07, 0.09),
                                  .fat_cover = some_length(0.0, 0.01),
                                  .tail = some_length(0.0, 0.03)});
        if (maybe()) l.silverskin = some_length(0.0, 0.002);
        if (maybe()) l.fill = some(0.5, 0.9);
        if (maybe())
            l.gluteus_medius = gluteus_medius_entry{.onset = some_length(0.3, 0.35), .share_at_end = some_share()};
        return l;
    }
    [[nodiscard]] tranche::cutting_rules rules() {
        using namespace tranche;
        cutting_rules r;
        if (maybe()) r.trim_whole = trim();
        if (maybe()) r.facing = some_length(0.0, 0.01);
        r.facing_goes_to = one_of<destination>({all_destinations.begin(), all_destinations.end()});
        if (maybe()) {
            r.loose.clear();
            for (std::size_t i = 1 + random_() % 4; i > 0; --i)
                r.loose.push_back(
                    {.goes_to = one_of<destination>({all_destinations.begin(), all_destinations.end()}),
                     .trim = trim(),
                     .least_thickness = some_length(0.0, 0.02),
                     .place = one_of<loose_place>({loose_place::anywhere, loose_place::ends, loose_place::nowhere}),
                     .zone = maybe() ? quantity_range<length>{}
                                     : some_range(some_length(0.1, 0.2), some_length(0.2, 0.3))});
        }
        for (const tissue t : {tissue::eye, tissue::fat_cover, tissue::tail, tissue::connective})
            if (maybe()) r.trim_goes_to[t] = one_of<destination>({all_destinations.begin(), all_destinations.end()});
        r.remnant = {.thickness = some_length(0.0, 0.02), .weight = some_mass(0.0, 0.2), .required = maybe()};
        if (maybe()) r.cut_at = {some_length(0.05, 0.1), some_length(0.3, 0.39)};
        if (maybe()) r.kept_whole = {some_range(some_length(0.11, 0.15), some_length(0.16, 0.29), true)};
        if (!r.kept_whole.empty() && r.kept_whole[0].max == unlimited<length>() && r.cut_at.size() == 2)
            r.cut_at.pop_back();
        return r;
    }
    [[nodiscard]] tranche::sheet_cut cut(const std::string& name, bool money, tranche::length grid) {
        using namespace tranche;
        sheet_cut c{
            .spec = {.name = name, .thickness = some_range(some_length(0.01, 0.03), some_length(0.01, 0.05), true)}};
        if (maybe()) c.spec.portion = some_range(some_mass(0.2, 0.4), some_mass(0.2, 0.4));
        if (maybe()) c.spec.pieces = 1 + static_cast<int>(random_() % 4);
        if (maybe()) c.spec.trim = trim();
        c.spec.gluteus_medius = one_of<gluteus_medius_rule>({on_one_face,
                                                             no_gluteus_medius,
                                                             any_gluteus_medius,
                                                             gluteus_medius_up_to(some_share()),
                                                             {some_share(), some_share()}});
        if (maybe()) c.spec.kerf = some_length(0.0, 0.002);
        if (maybe()) c.spec.zone = some_range(some_length(0.0, 0.2), some_length(0.2, 0.4));
        if (maybe()) c.spec.thickness_step = static_cast<double>(random_() % 5) * grid;
        c.spec.one_thickness = maybe();
        if (maybe()) c.at_least = static_cast<std::int64_t>(random_() % 5);
        if (maybe()) c.at_most = c.at_least.value_or(0) + static_cast<std::int64_t>(random_() % 5);
        if (maybe()) c.charged_as = some_mass(0.2, 0.4);
        if (money && maybe()) c.price = some_price(0.0, 40.0);
        if (money && maybe()) c.price_each = some_money(0.0, 60.0);
        return c;
    }
    /// Orders of some of the cuts, on sheets that may have any.
    void orders(tranche::cut_sheet& s, bool money) {
        using namespace tranche;
        if (!s.thicknesses.empty() || maybe()) return;
        bool priced = s.plan_for == sheet_aim::best_value;
        for (const sheet_loin& l : s.loins) priced = priced && l.price;
        if (!priced && s.plan_for != sheet_aim::most_portions) return;
        for (sheet_cut& c : s.cuts) {
            c.at_least.reset();
            c.at_most.reset();
            if (maybe()) continue;
            sheet_order order{.cut = c.spec.name};
            if (maybe()) order.at_least = static_cast<std::int64_t>(random_() % 50);
            if (maybe() || !order.at_least)
                order.at_most = order.at_least.value_or(0) + static_cast<std::int64_t>(random_() % 50);
            if (money && maybe()) order.unfilled = some_money(0.0, 40.0);
            if (money && maybe()) order.left_over = some_money(0.0, 20.0);
            s.orders.push_back(std::move(order));
        }
    }
    [[nodiscard]] tranche::sheet_alternative alternative(const std::string& name, const tranche::cut_sheet& s) {
        using namespace tranche;
        sheet_alternative a{.ready = {.name = name, .price = some_price(0.0, 40.0)}};
        for (const sheet_cut& c : s.cuts)
            if (maybe()) a.ready.replaces.push_back(c.spec.name);
        if (maybe())
            a.look = ready_cut_look{.trim = trim()};
        else if (maybe())
            a.ready.edible_share = 0.1 + 0.9 * some_share();
        if (a.look && maybe()) a.look->gluteus_medius = some_share();
        return a;
    }

    std::mt19937_64 random_;
};

} // namespace tranche_test
