// That everything a program holds in its hands is a value: copied, compared, and equal to its copies.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <random>
#include <type_traits>

#include "loin/samples.hpp"

#include <tranche/grind.hpp>
#include <tranche/packs.hpp>
#include <tranche/records.hpp>
#include <tranche/scans.hpp>
#include <tranche/statistics.hpp>
#include <tranche/tranche.hpp>
#include <tranche/weighed_slices.hpp>

namespace values_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

template <class T>
concept value = std::copyable<T> && std::equality_comparable<T>;

template <class... T>
constexpr bool all_values = (value<T> && ...);

static_assert(
    all_values<joint_product<usd>, joint_by_product<usd>, joint_line<usd>, joint_allocation<usd>, joint_prices<usd>,
               jointly_settled<usd>, loin_order, plate_cost<usd>, count_distribution, savings_terms<usd>,
               break_even<mass>, cost_step<usd>, cutting_costs<usd>, edible_basis, ready_cut_look, ready_cut<usd>,
               own_portions, savings_line<usd>, savings<usd>, offer<usd>, ranked_offer<usd>, savings_grid<usd>,
               cooking_loss<usd>, cooking_yield, purchase<usd>, costed_portion<usd>, bill<usd>, settle_rules,
               usable_cost<usd>, weighed_part<usd>, yield_line<usd>, weighing_tolerance, yield_test<usd>>);
static_assert(all_values<gluteus_medius_rule, cut_spec, loose_cut, least_remnant, cut_order, cutting_rules, slab,
                         cutting_plan, mass_balance, portion_price<usd>, cutting_labour<usd>, price_list<usd>,
                         steak_readings, steak_shape, by_destination<int>, trim_spec>);
static_assert(all_values<blend_line<usd>, blend_remedy<usd>, blend<usd>, fat_range, legal_fat_limit, fat_square,
                         grind_source<usd>, blend_request, own_trim, trim_worth<usd>>);
static_assert(all_values<calibrated_loin<prism_loin>, tabulation, slice_calibrated_loin<prism_loin>, weighed_slice,
                         slice_prior, slice_finding, slice_factor, slice_calibration<prism_loin>, cut_tilt, layer, face,
                         by_component<int>, typical<int>, loin_proportions, loin_deviations, mesh_fault, mesh_report,
                         mesh_point, triangle_mesh, mesh_bounds, station, gluteus_medius_entry, measured_loin,
                         prism_loin, probe_reading, scan_readings, tapered_loin, traced_face, outline_point, outline,
                         painted_outline, taped_readings, face_shape, by_tissue<int>>);
static_assert(
    all_values<tiling<double>, cut_regret, regret_scale, demand_tiling<double>, binding_limit, cutting_request,
               request_limit, limit_steps, limit_change, limit_cost, even_front, evenness_search, few_settings,
               front_point, planned, polished_cuts, score_part, search_figures, demand, demand_shortfall, actual_slab,
               cutting_account, cutting_spreads, next_cut, slab_reading, knife_spread, portion_chances>);
static_assert(all_values<nominal_lot, inspected_pack, random_weight_lot, weighing_rules, net_weight, pack_wishes<usd>,
                         pack_appraisal<usd>, label_price<usd>, label_rules, pack_label<usd>, label_field,
                         tolerance_band<mass>, pack_tolerances, ordered_steak, found_and_allowed<mass>,
                         tolerance_finding, tested_scale, steak_pack<usd>, fat_readings, pack_contents>);
static_assert(all_values<cutting_record, learned_share, learned_losses, trim_factors, learned_trim, yield_summary,
                         record_summary, record_rules, yield_chart>);
static_assert(all_values<kitchen_units, report_table, cut_face, loin_outline, report_section, asked_loins,
                         scale_reading, portion_costs, portion_questions, what_ifs>);
static_assert(
    all_values<control_limits, individuals_chart, regression_line, anova_table, confidence_interval, sample_summary>);
static_assert(all_values<csv_row, mass_division, length_division>);
static_assert(all_values<amount<usd>, micrograms, quantity_range<mass>, written_quantity<mass>, temperature, sentence>);
static_assert(value<profile> && std::regular<sentence> && std::regular<cutting_plan> && std::regular<bill<usd>>);

template <class T>
concept hashed = std::regular<T> && requires(const T& x) {
    { std::hash<T>{}(x) } -> std::same_as<std::size_t>;
};
static_assert(hashed<micrograms> && hashed<amount<usd>> && hashed<temperature>);

TEMPLATE_TEST_CASE("law: what is equal hashes alike", "", micrograms, amount<usd>, amount<bhd>) {
    std::mt19937_64 random(20261130);
    std::uniform_int_distribution<std::int64_t> count(-3, 3);
    for (int i = 0; i < 200; ++i) {
        const TestType a{count(random)}, b{count(random)};
        CHECK((a == b) == (std::hash<TestType>{}(a) == std::hash<TestType>{}(b))); // seven small numbers do not collide
        CHECK((a < b) == (b > a));
        CHECK(((a <=> b) == 0) == (a == b));
    }
}

TEST_CASE("law: the same input gives an equal profile, plan and bill, and another input another") {
    measured_loin loin = strip_loin();
    const profile meat = tabulate(loin);
    CHECK(meat == tabulate(loin));
    CHECK(meat != tabulate(loin, 1_mm));
    loin.stations.back().fat_cover += 0.5_mm;
    CHECK(meat != tabulate(loin));

    const cut_spec steak{.name = "steak", .thickness = {20_mm, 30_mm}},
        other{.name = "steak", .thickness = {21_mm, 30_mm}};
    const cutting_plan plan = most_portions(meat, steak).plan, again = most_portions(meat, steak).plan;
    CHECK(plan == again);
    CHECK(plan.slabs == again.slabs);
    CHECK(plan != most_portions(meat, other).plan);
    cutting_plan moved = plan;
    moved.slabs.back().start += 1_mm;
    CHECK(moved != plan);

    const purchase<usd> bought{.weight = to_mass(meat.total()), .price = 17.90_usd / 1_kg};
    const bill<usd> paid = settle(plan, bought);
    CHECK(paid == settle(again, bought));
    purchase<usd> dearer = bought;
    dearer.price = 18_usd / 1_kg;
    CHECK(bought != dearer);
    CHECK(paid != settle(plan, dearer));
}

TEST_CASE("what is not known of a plan does not keep it from being equal to its copy") {
    const profile meat = tabulate(strip_loin());
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 30_mm}, .portion = {250_g, 450_g}};
    const tranche::planned planned = least_giveaway(meat, steak);
    REQUIRE(std::isnan(planned.score())); // of several parts
    tranche::planned copy = planned;
    CHECK(copy == planned);
    copy.score_parts.back().value += 1.0;
    CHECK(copy != planned);
    copy = planned;
    copy.score_parts.back().bound = std::numeric_limits<double>::quiet_NaN();
    CHECK(copy != planned);
    limit_cost cost;
    cost.gain = std::numeric_limits<double>::quiet_NaN();
    cost.planned = planned;
    limit_cost other = cost;
    CHECK(cost == other);
    other.more_portions = 1;
    CHECK(cost != other);
}

TEST_CASE("sentences are equal in words and quantities") {
    CHECK(sentence("at ") + 3_mm == sentence("at ") + 3_mm);
    CHECK(sentence("at ") + 3_mm != sentence("at ") + 4_mm);
    CHECK(sentence("at ") + 3_mm != sentence("at 3 mm"));
}

} // namespace values_laws
