// A cut sheet: what a person knows of one or several loins, what may be cut from them, and what it is compared with.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/cutting_costs.hpp>
#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/ready_cut.hpp>
#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/temperature.hpp>

namespace tranche {

/// What a sheet asks for.
enum class sheet_aim { best_value, most_portions, least_waste, least_giveaway, even_portions, fewest_settings };

/// In what a sheet is answered. Decimal pounds are for those whose scale shows them: loins are written 12.31 lb then.
enum class sheet_units { us, decimal_pounds, metric };

/// By what portions share what the loin cost.
enum class cost_share { weight, sales_value };

// Money on a sheet is a number of the sheet's currency; see `cut_sheet::currency`.
using sheet_money = money<chosen_currency>;
using sheet_price = unit_price<chosen_currency>;

/// A loin as it was bought and measured. Without stations it is a typical loin of its kind, of that weight and, where it was
/// measured, that length: a guess.
struct sheet_loin {
    std::string name{};                      ///< tells several apart; empty if there is one
    mass weight{};                           ///< as invoiced; above zero
    std::optional<mass> on_the_board{};      ///< unpacked, at most `weight`; none: as invoiced
    std::optional<sheet_price> price{};      ///< by the invoiced weight
    std::optional<tranche::length> length{}; ///< as it lies under the knife; needed for stations
    std::vector<station> stations{};         ///< from the rib face on
    std::optional<tranche::length> silverskin{};
    std::optional<fraction> fill{};
    std::optional<gluteus_medius_entry> gluteus_medius{};
    std::string kind{}; ///< the name of a kind of `loin/kinds`; empty: a beef strip loin
    std::string lot{}, supplier{};
    std::optional<temperature> on_arrival{};

    friend bool operator==(const sheet_loin&, const sheet_loin&) = default;
};

/// A kind of portion and what is asked of it. Its kind's price by weight or by the piece is what it would sell for.
struct sheet_cut {
    cut_spec spec{};
    std::optional<std::int64_t> at_least{}, at_most{}; ///< portions
    std::optional<mass> charged_as{};                  ///< for the least giveaway; none: the lower limit of the portion
    std::optional<sheet_price> price{};
    std::optional<sheet_money> price_each{};

    friend bool operator==(const sheet_cut&, const sheet_cut&) = default;
};

/// Ready-cut meat, and how it looks in the case if that is said.
struct sheet_alternative {
    ready_cut<chosen_currency> ready{};
    std::optional<ready_cut_look> look{};

    friend bool operator==(const sheet_alternative&, const sheet_alternative&) = default;
};

/// Another loin, or something else, that could be bought instead.
struct sheet_offer {
    std::string name{};
    purchase<chosen_currency> bought{};
    fraction yield = 1.0;        ///< portions out of the weight bought, above 0
    fraction edible_share = 1.0; ///< of its portions, above 0
    sheet_price rest{};          ///< what the rest is worth; below zero it costs
    duration time{};             ///< to cut it

    friend bool operator==(const sheet_offer&, const sheet_offer&) = default;
};

/// Grind out of what the plan leaves for it, brought to a fat content with lean meat that is bought in.
struct sheet_grind {
    fraction fat{};                          ///< wanted, lipid by mass; above 0, below 1
    fraction lean_fat{};                     ///< of the lean meat added; below `fat`
    std::optional<sheet_price> lean_price{}; ///< of that meat

    friend bool operator==(const sheet_grind&, const sheet_grind&) = default;
};

/// Portions on a menu, at the price each of their cut.
struct sheet_menu {
    std::optional<fraction> food_cost{}; ///< share of the menu price that food is to cost; above 0
    sheet_money rest_of_plate{};         ///< what is on the plate beside the portion

    friend bool operator==(const sheet_menu&, const sheet_menu&) = default;
};

/// Packs in a case, at the price of their cut.
struct sheet_case {
    std::optional<fraction> margin{}; ///< wanted, as a share of sales; 0 to below 1
    fraction shrink{};                ///< of the packs, by weight, that are never sold; 0 to below 1
    cost_share share_cost_by = cost_share::weight;
    mass tare{}; ///< of the packing of a pack, zero or more: the scale takes it off
    std::optional<std::chrono::year_month_day> packed_on{}, sell_by{}; ///< on the labels

    friend bool operator==(const sheet_case&, const sheet_case&) = default;
};

/// Loins like those of the sheet, and a hand that is not exact: how many portions, nine times out of ten? Answered by `study_sheet`.
/// Spreads are standard deviations as a share of the size. One that is not given is that of the kind where the loin is a guess, and
/// nothing where it was measured; of the weight, which was on a scale, and of prices nothing.
struct sheet_study {
    std::int64_t loins = 400;        ///< drawn; 50 to 100,000
    fraction sure = 0.9;             ///< how often what is answered is to hold, above 0 and below 1
    length knife = 1.0 * millimetre; ///< standard deviation of a cut; a rule of thumb, no source
    bool by_marks = false;           ///< whether the knife goes by marks along the loin, not from the last cut on
    bool plan_once = false;          ///< whether all are cut by the sheet's plan, not each by one of its own
    bool stated_only = false;        ///< whether a guess varies by what is stated here alone, not by its kind
    std::optional<fraction> weight_spread{}, length_spread{}, depth_spread{}, fat_cover_spread{}, tail_spread{};
    std::optional<fraction> price_spread{}, worth_spread{}; ///< of the loin's price, and of what the rest is worth
    length fat_left_spread{}; ///< standard deviation of the fat that stays, about what the trim asks for

    friend bool operator==(const sheet_study&, const sheet_study&) = default;
};

/// How many portions of a cut are ordered of all loins together, tonight's covers say. The cut goes by its name.
struct sheet_order {
    std::string cut{};
    std::optional<std::int64_t> at_least{}, at_most{}; ///< portions; one of both at least
    std::optional<sheet_money> unfilled{};             ///< what each portion that is missing costs
    std::optional<sheet_money>
        left_over{}; ///< what each portion above `at_most` is worth; without it, above `at_least`

    friend bool operator==(const sheet_order&, const sheet_order&) = default;
};

/// The whole sheet. Money in it is a number in `currency`: whoever reckons with it does so under a `currency_choice` of that.
struct cut_sheet {
    std::string title{};
    std::optional<iso_currency> currency{}; ///< none: there is no money on the sheet
    sheet_units units = sheet_units::us;
    std::optional<std::chrono::year_month_day> date{};
    std::string cutter{};

    std::vector<sheet_loin> loins{}; ///< one or more

    sheet_aim plan_for = sheet_aim::best_value;
    std::optional<std::int64_t> portions{}; ///< for even portions: how many in all
    std::optional<mass> even_within{};      ///< for even portions: a difference of weights that is even enough
    std::optional<length> grid{};           ///< none: as the units have it, `grid_of`
    std::vector<length> thicknesses{};      ///< of the only cut, to be compared side by side
    cutting_rules rules{};
    std::vector<sheet_cut> cuts{};     ///< one or more, the preferred ones first
    std::vector<sheet_order> orders{}; ///< if there are any, loins are opened as far as they take it; each cut once

    by_destination<std::optional<sheet_price>> by_products{};
    cutting_labour<chosen_currency> labour{};
    cutting_costs<chosen_currency> costs{}; ///< of all of the loins together
    edible_basis basis{};
    std::vector<sheet_alternative> alternatives{};
    std::vector<sheet_offer> offers{};
    std::optional<sheet_grind> grind{};
    std::optional<sheet_menu> menu{};
    std::optional<sheet_case> retail{};
    std::optional<sheet_study> study{};

    friend bool operator==(const cut_sheet&, const cut_sheet&) = default;
};

/// The step of the positions that are looked at: the sheet's own, or 1/16 in for a sheet in US units and 0.5 mm for a
/// metric one. A length; whether it is above zero is checked where it is planned with. Throws nothing.
[[nodiscard]] inline length grid_of(const cut_sheet& sheet) {
    if (sheet.grid) return *sheet.grid;
    return sheet.units == sheet_units::metric ? default_step : inch / 16.0;
}

} // namespace tranche
