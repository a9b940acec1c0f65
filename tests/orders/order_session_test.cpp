// Cutting for an order: what a heavy loin frees, what a light one misses, what is made counts, and going on from a state.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "orders/two_loins.hpp"
#include <tranche/orders/order_session.hpp>

namespace order_session_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A loin costs 20.00 (A 19.90), so that A is opened first.
order<usd> seven_steaks() { return steaks_of_two_loins(7, 19.90_usd); }
/// Loins are known to differ by a fifth, and hand and scale are sure: one slab says how heavy a loin is.
constexpr cutting_spreads sure{
    .ratio = 0.2, .bias = 0.01_mm, .knife = 0.01_mm, .ruler = 0.01_mm, .scale = 0.1_g, .single_slab = 0.0001};

template <class F>
std::string refused(const F& f) {
    try {
        f();
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "accepted";
}

/// Cuts what is advised off a loin that weighs `ratio` times what the tape has.
template <class Session>
void cut_up(Session& session, double ratio) {
    while (const auto next = session.next())
        session.record({.weight = ratio * (next->thickness / 1_mm) * 10_g, .thickness = next->thickness});
}

std::vector<std::size_t> to_open(const order_session<usd>& session) {
    std::vector<std::size_t> loins;
    for (const opened_loin& opened : session.plan().opened) loins.push_back(opened.loin);
    return loins;
}

} // namespace

TEST_CASE("order_session: a loin as heavy as the tape has it goes as planned") {
    order_session<usd> session(seven_steaks(), sure);
    // Seven of both: 63.00 + 5.00/kg × (200 g + 1700 g) - 40.00 = 32.50, give or take what steaks weigh. One loin: 54.00 - 5.00 +
    // 1.00 - 20.00 = 30.00.
    CHECK(to_open(session) == std::vector<std::size_t>{0, 1});
    REQUIRE(session.next_loin() == 0U);
    session.open(0);
    CHECK(session.on_board());
    CHECK(session.next_loin() == 1U);
    cut_up(session, 1.0);
    const std::int64_t made = session.made()[0]; // how many come of which loin is the same to the order
    CHECK((made >= 1 && made <= 6));
    CHECK(session.next_loin() == 1U);
    session.finish();
    CHECK(session.plan().lines[0].made == 7);
    CHECK(session.finished()[0].portions == std::vector<std::int64_t>{made});
    CHECK(session.finished()[0].as_cut.portion_count() == static_cast<std::size_t>(made));
    CHECK(to_open(session) == std::vector<std::size_t>{1});
    session.open(1);
    cut_up(session, 1.0);
    session.finish();
    CHECK(session.made() == std::vector<std::int64_t>{7});
    CHECK_FALSE(session.next_loin());
    CHECK(session.plan().filled());
}

TEST_CASE("order_session: what a heavy loin gives more, no other is opened for") {
    order_session<usd> session(seven_steaks(), sure);
    session.open(0);
    // 10.8 g a millimetre and 2.16 kg in all: seven steaks of 290 to 308 g.
    const next_cut first = *session.next();
    session.record({.weight = first.thickness / 1_mm * 10.8_g, .thickness = first.thickness});
    CHECK(to_open(session) == std::vector<std::size_t>{0});
    CHECK_FALSE(session.next_loin());
    cut_up(session, 1.08);
    session.finish();
    CHECK(session.made() == std::vector<std::int64_t>{7});
    CHECK(session.whole(1) == 1);
    CHECK_FALSE(session.next_loin());
    CHECK(session.plan().filled());
    REQUIRE(session.plan().unopened.size() == 1);
    CHECK(session.plan().unopened[0].loin == 1);
}

TEST_CASE("order_session: what a light loin misses comes out of another") {
    order<usd> six = seven_steaks();
    six.lines[0].at_least = six.lines[0].at_most = 6;
    order_session<usd> session(six, sure);
    CHECK(to_open(session) == std::vector<std::size_t>{0});
    session.open(0);
    CHECK_FALSE(session.next_loin());
    // 8 g a millimetre, 1.6 kg: five steaks. The sixth is worth 9.00 + 5.00 and what is left of B brings 8.50: B is opened for
    // it, for 20.00.
    const next_cut first = *session.next();
    session.record({.weight = first.thickness / 1_mm * 8_g, .thickness = first.thickness});
    REQUIRE(session.next_loin() == 1U);
    cut_up(session, 0.8);
    session.finish();
    CHECK(session.made()[0] < 6);
    session.open(*session.next_loin());
    cut_up(session, 1.0);
    session.finish();
    CHECK(session.made() == std::vector<std::int64_t>{6});
}

TEST_CASE("order_session: a state goes on with the same advice, and an undone reading was never made") {
    order_session<usd> session(seven_steaks(), sure);
    session.open(0);
    cut_up(session, 1.03);
    session.finish(100_g);
    session.open(1);
    const auto before = session.next();
    const auto plan = session.plan();
    session.record({.weight = before->weight});
    const order_session<usd> again(seven_steaks(), session.state(), sure);
    CHECK(again.next() == session.next());
    CHECK(again.plan() == session.plan());
    CHECK(again.made() == session.made());
    CHECK(again.state() == session.state());
    CHECK(again.finished()[0] == session.finished()[0]);
    CHECK(session.undo());
    CHECK(session.next() == before);
    CHECK(session.plan() == plan);
    CHECK_FALSE(session.undo());
}

TEST_CASE("order_session: refuses what cannot be, by name") {
    order_session<usd> session(seven_steaks(), sure);
    CHECK(refused([&] { session.open(2); }) == "loin: got 2, expected an index below 2");
    CHECK_THAT(refused([&] { session.record({.weight = 300_g}); }), StartsWith("board: got no loin"));
    CHECK_THAT(refused([&] { (void)session.finish(); }), StartsWith("board: got no loin"));
    session.open(0);
    CHECK_THAT(refused([&] { session.open(1); }), ContainsSubstring("none while A is on the board"));
    CHECK_THAT(refused([&] { session.record({.weight = 9_kg}); }), StartsWith("weight: got "));
    session.finish();
    CHECK_THAT(refused([&] { session.open(0); }), ContainsSubstring("still whole"));
    order_session_state odd = session.state();
    odd.done[0].readings.entries.push_back({.weight = 1_g, .option = 7, .set = 1_mm, .aimed = 1_mm});
    odd.done[0].readings.entries.front().kind = slab_kind::portions;
    CHECK_THAT(refused([&] { order_session<usd>(seven_steaks(), odd, sure); }),
               StartsWith("done[0].readings.entries[0].option: got 7"));
    odd = session.state();
    odd.done[0].loin = 9;
    CHECK_THAT(refused([&] { order_session<usd>(seven_steaks(), odd, sure); }), ContainsSubstring("got 9"));
}

} // namespace order_session_test
