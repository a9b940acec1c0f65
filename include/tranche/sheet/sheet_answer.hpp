// What comes of a cut sheet: for each loin its plan, bill, savings and doubts, and what all of its loins come to together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/grind/blend.hpp>
#include <tranche/grind/own_trim.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/orders/advice/loin_help.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/packs/pack_label.hpp>
#include <tranche/report/tables/what_if_tables.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

// As on the sheet, money of an answer is a number of the sheet's currency: outputs choose it for themselves.
using sheet_amount = amount<chosen_currency>;

/// How far to trust a plan of a typical loin: what the same sheet gives for loins that are longer or shorter, or have
/// more or less fat, by one standard deviation of the kind (`loin_proportions`), each by itself.
struct guess_spread {
    std::string kind{};
    fraction length_spread = 0.0;                   ///< of loins of that weight; zero where the length was measured
    fraction slice_weight_spread = 0.0;             ///< of a slice of given thickness at a given place
    std::size_t fewest = 0, most = 0;               ///< portions, the plan's own among them
    micrograms lightest{}, heaviest{};              ///< all portions together
    std::optional<sheet_amount> least{}, dearest{}; ///< cost of a portion on average

    friend bool operator==(const guess_spread&, const guess_spread&) = default;
};

/// What a study of a loin came to: limits between which a figure lies as often as the sheet wants to be sure, with as much left out
/// below as above.
struct loin_chances {
    fraction sure = 0.9;
    std::uint64_t loins = 0, impossible = 0;        ///< drawn; of those, what no loin can be, which is left out
    bool planned_once = false;                      ///< whether all were cut by the plan of the answer
    std::size_t fewest = 0, most = 0;               ///< portions cut
    std::size_t fewest_within = 0, most_within = 0; ///< of those inside all limits
    fraction within = 0.0;                          ///< portions inside all limits of those cut, on average
    micrograms lightest{}, heaviest{};              ///< the lightest portion is no lighter, the heaviest no heavier
    fraction least_yield = 0.0, most_yield = 0.0;   ///< portions that are sold, out of what was bought
    std::optional<sheet_amount> least{}, dearest{}; ///< cost of a portion

    friend bool operator==(const loin_chances&, const loin_chances&) = default;
};

/// What a cut came to, of one loin or of all. Sums are exact; what an average is rounded to is said.
struct cut_account {
    std::string name{};
    std::size_t portions = 0;
    micrograms weight{}, lightest{}, heaviest{}; ///< together; of a portion
    std::optional<sheet_amount> cost{};          ///< what its portions carry together
    std::optional<sheet_amount> sales{};         ///< at the sheet's prices, less what is never sold
    std::optional<sheet_price> price_needed{};   ///< by weight, for the margin that the sheet asks for
    std::optional<sheet_amount> each_needed{};   ///< the same of a portion on average, rounded half even

    /// Cost of a portion on average, rounded half even. None where there is no cost or no portion. In minor units of
    /// the sheet's currency, of any sign. Throws nothing.
    [[nodiscard]] std::optional<sheet_amount> cost_each() const;
    /// Sales - cost, in minor units, below zero at a loss; none where one of them is not known. Throws `invalid_input`
    /// only where 64 bits do not hold it.
    [[nodiscard]] std::optional<sheet_amount> margin() const;
    /// Margin / sales; none where nothing is sold. A plain share, below zero at a loss. Throws as `margin`.
    [[nodiscard]] std::optional<fraction> margin_share() const;

    friend bool operator==(const cut_account&, const cut_account&) = default;
};

/// What cutting saves against one alternative.
struct saving_account {
    std::string against{};
    sheet_amount gross{}, net{};
    savings_terms<chosen_currency> terms{}; ///< for break-evens: of all loins together, at their mean price

    friend bool operator==(const saving_account&, const saving_account&) = default;
};

/// What a loin came to, or all of them: one bill for a delivery. Portions, loose meat and trim by destination, cutting
/// loss and purge add up to what was bought, and costs of cuts to the primary value, both exactly.
struct sheet_account {
    std::size_t loins = 0;
    micrograms bought{}, on_the_board{};
    std::vector<cut_account> cuts{}; ///< one a cut of the sheet
    by_destination<micrograms> loose{}, trim{};
    micrograms cutting_loss{}, purge{};
    std::optional<sheet_amount> paid{}, credit{}, primary_value{}; ///< none unless every loin has a price
    std::optional<sheet_amount> purge_cost{}; ///< what was paid for the purge; in the primary value
    std::optional<sheet_amount> sales{};      ///< none unless every cut with portions has a price
    std::vector<saving_account> saved{};      ///< one an alternative

    /// All portions, of every cut: a plain number, zero or more. Throws nothing.
    [[nodiscard]] std::size_t portions() const;
    /// What they weigh together, in micrograms, zero or more. Throws `invalid_input` only where 64 bits do not hold it.
    [[nodiscard]] micrograms portion_weight() const;
    /// Portions out of what was bought, by weight. A plain share, 0 to 1 and above by the tolerance of the scales; 0 of
    /// nothing. Throws as `portion_weight`.
    [[nodiscard]] fraction yield() const;
    /// Sales - primary value: the gross margin, with by-products at their value. In minor units, below zero at a loss;
    /// none where one of them is not known. Throws `invalid_input` only where 64 bits do not hold it. Gross margin:
    /// common practice, no source.
    [[nodiscard]] std::optional<sheet_amount> margin() const;
    /// Margin / (sales + credit), all that is sold; none where nothing is. A plain share, below zero at a loss. Throws
    /// as `margin`.
    [[nodiscard]] std::optional<fraction> margin_share() const;

    friend bool operator==(const sheet_account&, const sheet_account&) = default;
};

/// One loin of a sheet. One that an order leaves whole is not opened: it has no plan, no bill and nothing in its account.
struct loin_answer {
    std::string name{};
    bool opened = true;
    calibrated_loin<measured_loin> loin{}; ///< as it was planned with, for pictures
    tranche::planned planned{};            ///< held against `verify`
    std::optional<guess_spread> guess{};   ///< of a typical loin
    std::optional<loin_chances> chances{}; ///< of a sheet with a study, by `study_sheet`
    sentence scale{};                      ///< how the scale agrees with the tape; empty for a guess
    std::vector<sentence> doubts{};
    std::optional<what_ifs> found{};
    std::optional<bill<chosen_currency>> settled{};            ///< if the sheet has its price
    std::optional<joint_allocation<chosen_currency>> shared{}; ///< where portions carry the cost by what they sell for
    std::vector<savings<chosen_currency>> saved{};             ///< one an alternative, if it is settled
    sheet_account account{};

    friend bool operator==(const loin_answer&, const loin_answer&) = default;
};

/// All loins of a sheet at one thickness.
struct thickness_account {
    length thickness{};
    bool feasible = false; ///< whether every loin has a plan
    sheet_account account{};

    friend bool operator==(const thickness_account&, const thickness_account&) = default;
};

/// The trim of all loins as ground meat.
struct grind_answer {
    own_trim own{};
    fraction fat = 0.0, wanted = 0.0;             ///< lipid of the trim, and of the blend
    std::optional<blend<chosen_currency>> made{}; ///< with lean meat added; only where the sheet asks for grind
    micrograms lean_needed{};                     ///< to bring it to `wanted`
    std::optional<sheet_price> worth{};           ///< of the trim in the blend, which is what bills credit it at

    friend bool operator==(const grind_answer&, const grind_answer&) = default;
};

/// A portion of a cut on the menu.
struct menu_line {
    std::string cut{};
    plate_cost<chosen_currency> plate{};
    std::optional<sheet_amount> price{};        ///< as the sheet has it
    std::optional<fraction> food_cost{};        ///< of that price
    std::optional<sheet_amount> price_needed{}; ///< for the food-cost percentage that the sheet asks for, rounded up

    friend bool operator==(const menu_line&, const menu_line&) = default;
};

/// The label of a pack that the plan foresees; goods are labelled from the scale.
struct sheet_label {
    std::size_t loin = 0; ///< index of the loin
    pack_label<chosen_currency> label{};

    friend bool operator==(const sheet_label&, const sheet_label&) = default;
};

/// How an order comes out when its loins are cut as they were planned and nothing is planned again (`order_as_cut`).
struct order_chances {
    std::uint64_t evenings = 0; ///< drawn
    fraction filled = 0.0;      ///< of those, in which every line has its portions
    double missing = 0.0;       ///< portions, on average

    friend bool operator==(const order_chances&, const order_chances&) = default;
};

/// What came of the orders of a sheet. Without prices, or where it is planned for most portions, a value says only what is better: of a
/// plan that is not proven best it is not known then how much better another one might be.
struct sheet_order_answer {
    order_plan<chosen_currency> plan{}; ///< with the cuts of each loin that is opened
    order_account account{};            ///< of all cuts of the sheet; loins and lines as on the sheet
    std::vector<loin_help> helps{};     ///< one more of which loin would help; with prices, if it was looked for
    /// What the order comes to with the same loins at the price of each offer of loins, and as they were bought ("this sheet"); with
    /// prices, if it was looked for.
    std::vector<supplied_order> suppliers{};
    std::optional<order_chances> chances{}; ///< of a sheet with a study, by `study_sheet`

    friend bool operator==(const sheet_order_answer&, const sheet_order_answer&) = default;
};

/// Everything that came of a sheet, with the sheet itself: outputs need nothing else.
struct sheet_answer {
    cut_sheet sheet{};
    std::vector<loin_answer> loins{};
    sheet_account all{};                                 ///< of the loins that are opened
    std::optional<sheet_order_answer> order{};           ///< where the sheet has orders
    std::vector<ranked_offer<chosen_currency>> offers{}; ///< each loin as planned among the sheet's offers
    std::vector<thickness_account> thicknesses{};        ///< side by side, in the sheet's order
    std::optional<grind_answer> grind{};                 ///< where something goes to grind
    std::vector<menu_line> menu{};
    std::vector<sheet_label> labels{};
    std::vector<sentence> remarks{}; ///< what is to be known of all of it

    /// Whether every loin that is opened has a plan with all that is asked for, and orders are filled. Throws nothing.
    [[nodiscard]] bool feasible() const;

    friend bool operator==(const sheet_answer&, const sheet_answer&) = default;
};

namespace detail {

/// a / n, to the nearest whole number, halves to the even one. `n` is above zero.
[[nodiscard]] constexpr std::int64_t mean_of(std::int64_t a, std::int64_t n) {
    std::int64_t low = a / n, rest = a % n;
    if (rest < 0) {
        rest += n;
        --low;
    }
    const bool up = rest != n - rest ? rest > n - rest : low % 2 != 0;
    return up ? low + 1 : low;
}

/// part / whole; none of nothing.
[[nodiscard]] inline std::optional<fraction> share_of(const std::optional<sheet_amount>& part, sheet_amount whole) {
    if (!part || whole.minor == 0) return std::nullopt;
    return static_cast<double>(part->minor) / static_cast<double>(whole.minor);
}

} // namespace detail

inline std::optional<sheet_amount> cut_account::cost_each() const {
    if (!cost || portions == 0) return std::nullopt;
    return sheet_amount{detail::mean_of(cost->minor, static_cast<std::int64_t>(portions))};
}
inline std::optional<sheet_amount> cut_account::margin() const {
    return cost && sales ? std::optional(*sales - *cost) : std::nullopt;
}
inline std::optional<fraction> cut_account::margin_share() const {
    return detail::share_of(margin(), sales.value_or(sheet_amount{}));
}
inline std::size_t sheet_account::portions() const {
    std::size_t count = 0;
    for (const cut_account& c : cuts) count += c.portions;
    return count;
}
inline micrograms sheet_account::portion_weight() const {
    micrograms sum;
    for (const cut_account& c : cuts) sum += c.weight;
    return sum;
}
inline fraction sheet_account::yield() const {
    return bought.count > 0 ? static_cast<double>(portion_weight().count) / static_cast<double>(bought.count) : 0.0;
}
inline std::optional<sheet_amount> sheet_account::margin() const {
    return sales && primary_value ? std::optional(*sales - *primary_value) : std::nullopt;
}
inline std::optional<fraction> sheet_account::margin_share() const {
    return detail::share_of(margin(), sales.value_or(sheet_amount{}) + credit.value_or(sheet_amount{}));
}
inline bool sheet_answer::feasible() const {
    if (order && !order->account.filled()) return false;
    for (const loin_answer& loin : loins)
        if (loin.opened && !loin.planned.feasible()) return false;
    return !loins.empty();
}

} // namespace tranche
