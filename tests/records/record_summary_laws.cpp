// Laws over invented records: order and unit do not matter, shares close, and what was learned gives back what was put in.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/records/learned_losses.hpp>
#include <tranche/records/record_summary.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>

#include "records/invented_records.hpp"
#include "support/catch.hpp"

namespace record_summary_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

bool same(const std::optional<confidence_interval>& a, const std::optional<confidence_interval>& b) {
    return a.has_value() == b.has_value() && (!a || (a->low == b->low && a->high == b->high));
}
bool same(const sample_summary& a, const sample_summary& b) {
    return a.count == b.count && a.mean == b.mean && a.standard_deviation == b.standard_deviation &&
           same(a.interval, b.interval);
}
bool same(const yield_summary& a, const yield_summary& b) {
    const bool trends = a.trend.has_value() == b.trend.has_value() &&
                        (!a.trend || (a.trend->slope == b.trend->slope && a.trend->intercept == b.trend->intercept &&
                                      same(a.trend->slope_interval, b.trend->slope_interval)));
    return a.supplier == b.supplier && same(a.yield, b.yield) && trends && a.first == b.first && a.last == b.last;
}
bool same(const learned_share& a, const learned_share& b) {
    return a.count == b.count && a.value == b.value && a.standard_error == b.standard_error &&
           same(a.interval, b.interval);
}

void shuffle(std::vector<cutting_record>& list, std::mt19937& random) {
    for (std::size_t i = list.size() - 1; i > 0; --i) std::swap(list[i], list[random() % (i + 1)]);
}

/// Every weight in another unit of the same number: kilograms that were written for pounds.
std::vector<cutting_record> scaled(std::vector<cutting_record> list, double factor) {
    for (cutting_record& r : list) {
        r.bought *= factor;
        r.usable *= factor;
        for (mass& m : r.by_products.values) m *= factor;
        r.cutting_loss *= factor;
        r.purge *= factor;
    }
    return list;
}

} // namespace

TEST_CASE("the order of the records changes no bit of a summary") {
    std::mt19937 random(3);
    for (std::uint32_t seed = 1; seed <= 10; ++seed) {
        auto list = invented_cuts::records(seed, 35);
        const record_summary first = summarise_records(list);
        const learned_losses learned = learn_losses(list);
        const auto chart = chart_yields(list).chart;
        for (int round = 0; round < 5; ++round) {
            shuffle(list, random);
            const record_summary again = summarise_records(list);
            CHECK(same(again.all, first.all));
            REQUIRE(again.by_supplier.size() == first.by_supplier.size());
            for (std::size_t i = 0; i < first.by_supplier.size(); ++i)
                CHECK(same(again.by_supplier[i], first.by_supplier[i]));
            CHECK(again.suppliers->f == first.suppliers->f);
            CHECK(again.suppliers->between_variance == first.suppliers->between_variance);
            CHECK(same(*again.all.against_plan, *first.all.against_plan));
            CHECK(same(learn_losses(list).purge, learned.purge));
            CHECK(same(*learn_losses(list).rest_over_planned, *learned.rest_over_planned));
            CHECK(chart_yields(list).chart.values == chart.values);
            CHECK(chart_yields(list).chart.outside == chart.outside);
        }
    }
}

TEST_CASE("the unit of the weights does not matter to yields and shares") {
    for (std::uint32_t seed = 1; seed <= 10; ++seed) {
        const auto list = invented_cuts::records(seed, 30);
        // A power of two rounds nothing; pounds round each weight once, 1e-16, and to the microgram, 1e-9 of a kilogram at
        // most, where parts are counted; spreads are a hundredth of the yields, so two digits less.
        const record_summary one = summarise_records(list), two = summarise_records(scaled(list, 2.0));
        CHECK(same(one.all, two.all));
        const record_summary pounds = summarise_records(scaled(list, 0.45359237), {.scale_tolerance = 0.00001_g});
        CHECK_THAT(pounds.all.yield.mean, WithinRel(one.all.yield.mean, 1e-14));
        CHECK_THAT(*pounds.all.yield.standard_deviation, WithinRel(*one.all.yield.standard_deviation, 1e-12));
        CHECK_THAT(pounds.all.trend->slope, WithinAbs(one.all.trend->slope, 1e-14));
        const learned_losses a = learn_losses(list),
                             b = learn_losses(scaled(list, 0.45359237), {.scale_tolerance = 0.00001_g});
        CHECK_THAT(b.purge.value, WithinRel(a.purge.value, 1e-12));
        CHECK_THAT(b.usable.value, WithinRel(a.usable.value, 1e-9)); // of the board, in whole micrograms
        CHECK_THAT(*b.usable.standard_error, WithinRel(*a.usable.standard_error, 1e-6));
    }
}

TEST_CASE("the shares of the board add up to one") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const learned_losses l = learn_losses(invented_cuts::records(seed, 25));
        double sum = l.usable.value + l.cutting_loss.value + l.unaccounted.value;
        for (const learned_share& s : l.by_products.values) sum += s.value;
        CHECK_THAT(sum, WithinAbs(1.0, 1e-13)); // some 200 roundings
    }
}

TEST_CASE("what was learned gives back the masses of the record") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const auto list = invented_cuts::records(seed, 25);
        const learned_losses l = learn_losses(list);
        mass bought{}, board{}, rest{};
        double planned = 0.0;
        for (const cutting_record& r : list) {
            bought += r.bought;
            board += r.on_board();
            if (!r.predicted_yield) continue;
            rest += r.bought - r.usable;
            planned += (1.0 - *r.predicted_yield) * (r.bought / 1_kg);
        }
        CHECK_THAT(l.expected_board_weight(bought).value(), WithinRel(board.value(), 1e-13));
        CHECK_THAT(l.purchase_for(l.expected_board_weight(5.4_kg)).value(), WithinRel(5.4, 1e-14));
        CHECK_THAT(l.rest_over_planned->value * planned, WithinRel(rest.value(), 1e-13));
    }
}

} // namespace record_summary_laws
