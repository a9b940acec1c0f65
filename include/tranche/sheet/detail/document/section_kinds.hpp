// The sections that a cut sheet may have, and their keys.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/sheet/detail/document/cutting_keys.hpp>
#include <tranche/sheet/detail/document/money_keys.hpp>
#include <tranche/sheet/detail/document/order_keys.hpp>
#include <tranche/sheet/detail/document/study_keys.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Whether a name follows the heading of a section.
enum class naming { no, maybe, yes };

/// A kind of section: how it is called in an INI file and in JSON, and its keys.
struct section_kind {
    std::string_view heading, json;
    naming named = naming::no;
    void (*each_key)(field_visitor&) = nullptr;
};

template <class Target, void (*Fields)(field_visitor&, Target&)>
void each_key_of(field_visitor& io) {
    Target none{};
    Fields(io, none);
}
template <class = when_called>
TRANCHE_COLD void trim_whole_fields(field_visitor& io, trim_spec& trim) {
    trim_fields(io, trim);
}

/// Every kind of section, in the order in which sheets are written.
template <class Called = when_called>
[[nodiscard]] const std::array<section_kind, 19>& section_kinds() {
    static constexpr std::array kinds{
        section_kind{"sheet", "sheet", naming::no, each_key_of<cut_sheet, sheet_fields<Called>>},
        section_kind{"loin", "loins", naming::maybe, each_key_of<sheet_loin, loin_fields<Called>>},
        section_kind{"station", "stations", naming::yes, each_key_of<station, station_fields<Called>>},
        section_kind{"cutting", "cutting", naming::no, each_key_of<cut_sheet, cutting_fields<Called>>},
        section_kind{"trim", "trim", naming::no, each_key_of<by_tissue<destination>, trim_goes_to_fields<Called>>},
        section_kind{"trim whole", "trim_whole", naming::no, each_key_of<trim_spec, trim_whole_fields<Called>>},
        section_kind{"cut", "cuts", naming::yes, each_key_of<sheet_cut, cut_fields<Called>>},
        section_kind{"loose", "loose", naming::yes, each_key_of<loose_cut, loose_fields<Called>>},
        section_kind{"order", "orders", naming::yes, each_key_of<sheet_order, order_fields<Called>>},
        section_kind{"worth", "worth", naming::no,
                     each_key_of<by_destination<std::optional<sheet_price>>, worth_fields<Called>>},
        section_kind{"labour", "labour", naming::no,
                     each_key_of<cutting_labour<chosen_currency>, labour_fields<Called>>},
        section_kind{"edible", "edible", naming::no, each_key_of<edible_basis, edible_fields<Called>>},
        section_kind{"costs", "costs", naming::no, each_key_of<cutting_costs<chosen_currency>, costs_fields<Called>>},
        section_kind{"compare", "alternatives", naming::yes, each_key_of<sheet_alternative, compare_fields<Called>>},
        section_kind{"offer", "offers", naming::yes, each_key_of<sheet_offer, offer_fields<Called>>},
        section_kind{"grind", "grind", naming::no, each_key_of<sheet_grind, grind_fields<Called>>},
        section_kind{"menu", "menu", naming::no, each_key_of<sheet_menu, menu_fields<Called>>},
        section_kind{"case", "case", naming::no, each_key_of<sheet_case, case_fields<Called>>},
        section_kind{"study", "study", naming::no, each_key_of<sheet_study, study_fields<Called>>}};
    return kinds;
}

/// The keys of a kind of section with what stands behind them, in order.
struct known_key {
    std::string key{};
    field_form form = field_form::text;
    bool required = false;
};
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<known_key> keys_of(const section_kind& kind) {
    class list final : public field_visitor {
    public:
        void field(std::string_view key, field_form form, const std::string& required, const reading&,
                   const writing&) override {
            keys.push_back({std::string(key), form, !required.empty()});
        }
        std::vector<known_key> keys{};
    };
    list all;
    kind.each_key(all);
    return all.keys;
}

} // namespace tranche::detail
