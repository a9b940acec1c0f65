// The answer to a cut sheet as JSON, for programs in other languages.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/orders/order_json.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/report/tables/order_advice_tables.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/detail/answer_words.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/date.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Writes the parts of an answer. Weights are grams, lengths millimetres, shares 0 to 1, prices those of a kilogram;
/// sums of money are text with the decimals of the minor unit, so that nobody reads them as binary fractions. What is
/// not known is left out.
template <class = when_called>
class answer_writer {
public:
    using json = nlohmann::ordered_json;

    explicit answer_writer(const sheet_answer& answer) : answer_(answer), units_(kitchen_of(answer.sheet)) {}

    [[nodiscard]] json written() const {
        json j{{"format", "tranche answer 1"}, {"title", answer_.sheet.title}};
        if (answer_.sheet.currency) j["currency"] = answer_.sheet.currency->code;
        if (answer_.sheet.date) j["date"] = date_text(*answer_.sheet.date);
        put_text(j, "cutter", answer_.sheet.cutter);
        j["feasible"] = answer_.feasible();
        j["all"] = account(answer_.all);
        if (answer_.order) j["order"] = order(*answer_.order);
        for (std::size_t i = 0; i < answer_.loins.size(); ++i) j["loins"].push_back(loin(i));
        for (const ranked_offer<chosen_currency>& o : answer_.offers) j["offers"].push_back(offer_row(o));
        for (const thickness_account& t : answer_.thicknesses) {
            json row{{"thickness_mm", millimetres(t.thickness)}, {"feasible", t.feasible}};
            row.update(account(t.account));
            j["thicknesses"].push_back(std::move(row));
        }
        if (answer_.grind) j["grind"] = grind(*answer_.grind);
        for (const menu_line& m : answer_.menu) j["menu"].push_back(menu(m));
        for (const sheet_label& l : answer_.labels) j["labels"].push_back(label(l));
        for (const sentence& remark : answer_.remarks) j["remarks"].push_back(in_units(remark, units_));
        return j;
    }

private:
    [[nodiscard]] static double grams(micrograms m) { return static_cast<double>(m.count) / 1e6; }
    [[nodiscard]] static double millimetres(length l) { return l / millimetre; }
    static void put_text(json& j, const char* key, const std::string& text) {
        if (!text.empty()) j[key] = text;
    }
    static void put(json& j, const char* key, const std::optional<sheet_amount>& a) {
        if (a) j[key] = figure_cell(a);
    }
    static void put(json& j, const char* key, const std::optional<sheet_price>& p) {
        if (p) j[key] = p->value();
    }
    static void put(json& j, const char* key, const std::optional<fraction>& share) {
        if (share) j[key] = *share;
    }
    [[nodiscard]] static json by_place(const by_destination<micrograms>& masses) {
        json j = json::object();
        for (const destination d : all_destinations)
            if (masses[d].count > 0) j[std::string(name_of(d))] = grams(masses[d]);
        return j;
    }

    [[nodiscard]] static json cut(const cut_account& of) {
        json j{{"cut", of.name}, {"portions", of.portions}, {"weight_g", grams(of.weight)}};
        if (of.portions > 0) {
            j["lightest_g"] = grams(of.lightest);
            j["heaviest_g"] = grams(of.heaviest);
        }
        put(j, "cost", of.cost);
        put(j, "cost_each", of.cost_each());
        put(j, "sales", of.sales);
        put(j, "margin", of.margin());
        put(j, "margin_share", of.margin_share());
        put(j, "price_needed_per_kg", of.price_needed);
        return j;
    }
    [[nodiscard]] static json account(const sheet_account& of) {
        json j{{"portions", of.portions()},
               {"bought_g", grams(of.bought)},
               {"on_the_board_g", grams(of.on_the_board)},
               {"portions_g", grams(of.portion_weight())},
               {"yield", of.yield()},
               {"cuts", json::array()},
               {"loose_g", by_place(of.loose)},
               {"trim_g", by_place(of.trim)},
               {"cutting_loss_g", grams(of.cutting_loss)},
               {"purge_g", grams(of.purge)}};
        for (const cut_account& c : of.cuts) j["cuts"].push_back(cut(c));
        put(j, "paid", of.paid);
        put(j, "credit", of.credit);
        put(j, "primary_value", of.primary_value);
        put(j, "sales", of.sales);
        put(j, "margin", of.margin());
        put(j, "margin_share", of.margin_share());
        for (const saving_account& s : of.saved) {
            json row{{"against", s.against}};
            put(row, "gross", std::optional(s.gross));
            put(row, "net", std::optional(s.net));
            put(row, "break_even_price_per_kg", break_even_price(s.terms).at);
            put(row, "break_even_yield", break_even_yield(s.terms).at);
            j["saved"].push_back(std::move(row));
        }
        return j;
    }

    [[nodiscard]] json loin(std::size_t i) const {
        const loin_answer& of = answer_.loins[i];
        const sheet_loin& bought = answer_.sheet.loins[i];
        json j{{"name", of.name}};
        put_text(j, "lot", bought.lot);
        put_text(j, "supplier", bought.supplier);
        if (bought.on_arrival) j["temperature_on_arrival_c"] = bought.on_arrival->celsius;
        if (answer_.order) j["opened"] = of.opened;
        if (!of.opened) return j;
        j["feasible"] = of.planned.feasible();
        j["proven_best"] = of.planned.proven_optimal();
        j["guess"] = of.guess.has_value();
        j["length_mm"] = millimetres(of.planned.plan.extent);
        j.update(account(of.account));
        j["slabs"] = slabs(of);
        if (of.guess && !answer_.order) {
            const guess_spread& g = *of.guess;
            j["spread"] = {{"kind", g.kind},
                           {"fewest_portions", g.fewest},
                           {"most_portions", g.most},
                           {"lightest_g", grams(g.lightest)},
                           {"heaviest_g", grams(g.heaviest)},
                           {"length", g.length_spread},
                           {"slice_weight", g.slice_weight_spread}};
            put(j["spread"], "least_cost_each", g.least);
            put(j["spread"], "highest_cost_each", g.dearest);
        }
        if (of.chances) {
            const loin_chances& c = *of.chances;
            j["chances"] = {{"sure", c.sure},
                            {"loins", c.loins},
                            {"impossible", c.impossible},
                            {"planned_once", c.planned_once},
                            {"fewest_portions", c.fewest},
                            {"most_portions", c.most},
                            {"fewest_within", c.fewest_within},
                            {"most_within", c.most_within},
                            {"share_within", c.within},
                            {"lightest_g", grams(c.lightest)},
                            {"heaviest_g", grams(c.heaviest)},
                            {"least_yield", c.least_yield},
                            {"most_yield", c.most_yield}};
            put(j["chances"], "least_cost_each", c.least);
            put(j["chances"], "highest_cost_each", c.dearest);
        }
        j["warnings"] = warnings_of(of.planned, units_);
        if (arrived_warm(bought)) j["warnings"].push_back(warm_words);
        j["doubts"] = json::array();
        if (!of.scale.empty()) j["doubts"].push_back(in_units(of.scale, units_));
        for (const sentence& doubt : of.doubts) j["doubts"].push_back(in_units(doubt, units_));
        if (of.found) {
            j["would_help"] = json::array();
            for (const limit_change& change : of.found->changes) j["would_help"].push_back(help(*of.found, change));
        }
        return j;
    }
    [[nodiscard]] json order(const sheet_order_answer& of) const {
        json j = json_of(of.account);
        if (answer_.sheet.plan_for != sheet_aim::best_value && of.account.ended != order_end::proven) j.erase("bound");
        for (const loin_help& help : of.helps) {
            json row{{"one_more_like", help.name}};
            if (help.gains) {
                row["brings"] = money_number(*help.gains, of.account.currency);
                row["fills"] = help.fills;
            }
            row["at_most"] = money_number(help.at_most, of.account.currency);
            j["would_help"].push_back(std::move(row));
        }
        if (of.chances)
            j["chances"] = {
                {"evenings", of.chances->evenings}, {"filled", of.chances->filled}, {"missing", of.chances->missing}};
        for (const supplied_order& by : of.suppliers)
            j["suppliers"].push_back({{"rank", by.rank},
                                      {"loins_of", by.name},
                                      {"opened", by.account.opened},
                                      {"loins_cost", money_number(by.account.loins_worth, by.account.currency)},
                                      {"portions", portions_of(by.account)},
                                      {"missing", missing_of(by.account)},
                                      {"worth", money_number(by.account.total(), by.account.currency)}});
        return j;
    }
    [[nodiscard]] json help(const what_ifs& found, const limit_change& change) const {
        const report_table table = changes_table(found.request, {change}, units_);
        const std::vector<std::string>& cells = table.rows.front().cells;
        json j{{"cut", cells[0]}, {"limit", cells[1]}, {"now", cells[2]}, {"needed", cells[3]}};
        j["portions"] = change.planned.plan.portion_count();
        return j;
    }
    [[nodiscard]] static json slabs(const loin_answer& of) {
        json all = json::array();
        const cutting_plan& cuts = of.planned.plan;
        for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
            const slab& s = cuts.slabs[i];
            json j{{"kind", name_of(s.kind)},
                   {"cut", s.kind == slab_kind::portions ? cuts.spec_of(s).name
                                                         : std::string(name_of(cuts.destination_of(s)))},
                   {"start_mm", millimetres(s.start)},
                   {"thickness_mm", millimetres(s.thickness)},
                   {"weight_g", grams(s.weight())},
                   {"trim_g", grams(s.trim.sum())}};
            for (const micrograms portion : cuts.portions_of(s)) j["portions_g"].push_back(grams(portion));
            if (of.settled)
                for (const costed_portion<chosen_currency>& p : of.settled->portions)
                    if (p.slab == i) j["costs"].push_back(figure_cell(p.cost));
            all.push_back(std::move(j));
        }
        return all;
    }
    [[nodiscard]] static json offer_row(const ranked_offer<chosen_currency>& o) {
        json j{{"rank", o.rank},
               {"offer", o.offer.name},
               {"price_per_kg", o.offer.bought.price.value()},
               {"yield", fraction(o.offer.portions / o.offer.bought.weight)},
               {"cost_per_edible_kg", o.edible_portion_cost.value()}};
        put(j, "cost_per_portion", std::optional(o.cost_per_portion));
        put(j, "worth_up_to_per_kg", o.worth_up_to);
        return j;
    }
    [[nodiscard]] json grind(const grind_answer& of) const {
        json j{{"weight_g", grams(of.own.total())}, {"fat", of.fat}};
        if (of.made && of.made->made()) {
            j["fat_made"] = of.made->fat;
            j["lean_needed_g"] = grams(of.lean_needed);
        }
        put(j, "worth_per_kg", of.worth);
        j["says"] = grind_words(of, answer_.sheet, units_);
        return j;
    }
    [[nodiscard]] static json menu(const menu_line& m) {
        json j{{"cut", m.cut}};
        put(j, "food_cost", std::optional(rounded<chosen_currency>(m.plate.food(), rounding::half_even, "food")));
        put(j, "menu_price", m.price);
        put(j, "food_cost_share", m.food_cost);
        put(j, "price_needed", m.price_needed);
        return j;
    }
    [[nodiscard]] json label(const sheet_label& l) const {
        json j{{"loin", answer_.loins[l.loin].name}, {"product", l.label.product},
               {"net_weight", l.label.net.text()},   {"tare_g", grams(to_micrograms(l.label.tare))},
               {"unit_price", l.label.price.text()}, {"total_price", figure_cell(l.label.total)}};
        put_text(j, "lot", answer_.sheet.loins[l.loin].lot);
        if (answer_.sheet.retail->packed_on) j["packed_on"] = date_text(*answer_.sheet.retail->packed_on);
        if (answer_.sheet.retail->sell_by) j["sell_by"] = date_text(*answer_.sheet.retail->sell_by);
        return j;
    }

    const sheet_answer& answer_;
    const kitchen_units units_;
};

} // namespace detail

/// The answer as JSON text (RFC 8259), two spaces a level, its members in a fixed order. Weights are grams to the
/// microgram, lengths millimetres, shares 0 to 1, prices those of a kilogram, sums of money text such as "6.52". What
/// is not known is left out; sentences are in the units of the sheet. Bytes that are no UTF-8 are replaced. Throws as
/// `to_text` for what cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string answer_json(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    return detail::answer_writer<>(answer).written().dump(2, ' ', false,
                                                          nlohmann::ordered_json::error_handler_t::replace) +
           '\n';
}

} // namespace tranche
