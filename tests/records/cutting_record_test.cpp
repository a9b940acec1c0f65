// SPDX-License-Identifier: BSL-1.0
#include <tranche/records/cutting_record.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <limits>

#include "records/invented_records.hpp"
#include "support/catch.hpp"

namespace cutting_record_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

cutting_record good() {
    cutting_record r{.date = invented_cuts::day(3), .supplier = "A", .bought = 5.4_kg, .usable = 3.9_kg};
    r.by_products[destination::grind] = 0.6_kg;
    r.by_products[destination::rendering] = 0.8_kg;
    r.cutting_loss = 20_g;
    r.purge = 54_g;
    return r;
}

template <class Change>
std::string refused(Change change, mass tolerance = mass{}) {
    cutting_record bad = good();
    change(bad);
    try {
        validate(bad, tolerance);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "no error";
}

} // namespace

TEST_CASE("a record knows its yield, what came on the board and what is unaccounted for") {
    const cutting_record r = good();
    CHECK_THAT(r.yield(), WithinRel(3.9 / 5.4, 1e-15));
    CHECK(to_micrograms(r.on_board()) == to_micrograms(5346_g));
    CHECK(r.unaccounted() == to_micrograms(26_g));
}

TEST_CASE("a record that cannot be is refused by its field") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(refused([](auto&) {}) == "no error");
    CHECK_THAT(refused([](auto& r) { r.date = {}; }), StartsWith("date: got no day"));
    CHECK_THAT(refused([](auto& r) { r.date = std::chrono::year(2026) / 2 / 29; }), StartsWith("date: got no day"));
    CHECK_THAT(refused([](auto& r) { r.supplier = ""; }), StartsWith("supplier: got nothing"));
    CHECK_THAT(refused([](auto& r) { r.supplier = " A"; }), StartsWith("supplier: got \" A\""));
    CHECK_THAT(refused([](auto& r) { r.grade = "a\nb"; }), StartsWith("grade"));
    CHECK_THAT(refused([](auto& r) { r.note = "\xFF"; }), StartsWith("note"));
    CHECK_THAT(refused([](auto& r) { r.bought = 0_kg; }), StartsWith("bought: got 0 g"));
    CHECK_THAT(refused([&](auto& r) { r.bought = nan * 1_kg; }), StartsWith("bought: got nan"));
    CHECK_THAT(refused([](auto& r) { r.usable = -1_g; }), StartsWith("usable: got -1 g"));
    CHECK_THAT(refused([](auto& r) { r.by_products[destination::dice] = -1_g; }), StartsWith("dice: got -1 g"));
    CHECK_THAT(refused([&](auto& r) { r.cutting_loss = nan * 1_g; }), StartsWith("cutting_loss"));
    CHECK_THAT(refused([](auto& r) { r.purge = 5.4_kg; }), StartsWith("purge: got 5400 g, expected less than"));
    CHECK_THAT(refused([](auto& r) { r.predicted_yield = 1.01; }), StartsWith("predicted_yield: got 1.01"));
    CHECK_THAT(refused([&](auto& r) { r.predicted_yield = nan; }), StartsWith("predicted_yield: got nan"));
}

TEST_CASE("parts heavier than the whole are refused and the error says by how much") {
    const auto heavier = [](auto& r) { r.usable += 31_g; }; // 26 g were unaccounted for
    CHECK(refused(heavier) ==
          "parts: got 5405 g in all, expected at most what was bought, 5400 g; they are too heavy by 5 g");
    CHECK(refused(heavier, 5_g) == "no error");
    CHECK_THAT(refused(heavier, 4_g), StartsWith("parts: got 5405 g"));
    CHECK_THAT(refused([](auto&) {}, -1_g), StartsWith("scale_tolerance: got -1 g"));
}

TEST_CASE("a record takes the disagreement of scales that the bill it came from took") {
    cutting_record r = good(); // 5.4 kg, of which 26 g are unaccounted for
    r.usable += 26_g + 0.004 * 5.4_kg;
    CHECK_NOTHROW(validate(r));
    r.usable += 1_g;
    CHECK_THROWS_WITH(validate(r), StartsWith("parts: got 5422.6 g in all"));
}

TEST_CASE("parts in ounces that are the whole are accepted, however each of them rounds to micrograms") {
    // 0.1 oz is 2834952.3125 micrograms and 0.5 oz 14174761.5625: eight parts of the latter come to 4 micrograms too much.
    for (const double part : {0.1, 0.2, 0.3, 0.5, 0.7, 1.1, 1.3, 2.3, 4.9}) {
        cutting_record r{.date = invented_cuts::day(3),
                         .supplier = "A",
                         .bought = 8.0 * part * 1_oz,
                         .usable = part * 1_oz,
                         .cutting_loss = part * 1_oz,
                         .purge = part * 1_oz};
        for (mass& m : r.by_products.values) m = part * 1_oz;
        CHECK_NOTHROW(validate(r, mass{}));
        r.usable += 12e-9 * 1_kg; // nine weights may be half a microgram off each, and a scale always one
        CHECK_THROWS_WITH(validate(r, mass{}), StartsWith("parts: got"));
        CHECK_NOTHROW(validate(r, 12e-9 * 1_kg));
    }
}

TEST_CASE("records come in order of time whatever their order was, those of one day by what they say") {
    std::vector<cutting_record> list = invented_cuts::records(5, 40);
    const auto sorted = detail::sorted_by_time(list);
    CHECK(std::is_sorted(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.date < b.date; }));
    std::mt19937 random(1);
    for (int round = 0; round < 10; ++round) {
        for (std::size_t i = list.size() - 1; i > 0; --i) std::swap(list[i], list[random() % (i + 1)]);
        CHECK(detail::sorted_by_time(list) == sorted);
    }
    list[7].usable = -1_g;
    CHECK_THROWS_WITH(detail::sorted_by_time(list), StartsWith("records[7].usable: got -1 g"));
    CHECK(detail::sorted_by_time({}).empty());
}

TEST_CASE("the records of one supplier keep their order") {
    const auto list = invented_cuts::records(6, 30);
    std::size_t all = 0;
    for (const char* name : {"supplier A", "supplier B", "supplier C", "nobody"}) {
        const auto theirs = of_supplier(list, name);
        all += theirs.size();
        for (const auto& r : theirs) CHECK(r.supplier == name);
        CHECK(
            std::is_sorted(theirs.begin(), theirs.end(), [](const auto& a, const auto& b) { return a.date < b.date; }));
    }
    CHECK(all == list.size());
}

} // namespace cutting_record_test
