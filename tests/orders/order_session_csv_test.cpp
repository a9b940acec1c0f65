// An order that is being cut, in a file: read back it is the same and goes on with the same advice; cut off or changed it is refused.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "orders/two_loins.hpp"
#include <tranche/orders/order_session.hpp>
#include <tranche/orders/order_session_csv.hpp>

namespace order_session_csv_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// One loin is done, its rest weighed and its slabs said to be what they are fit for; another is on the board.
const order_session<usd>& halfway() {
    static const order_session<usd> session = [] {
        order_session<usd> made(steaks_of_two_loins(9), {.ratio = 0.1, .knife = 0.3_mm});
        made.open(0);
        for (int slab = 0; slab < 3; ++slab) {
            const next_cut next = *made.next();
            made.record({.weight = (slab == 1 ? 1.07 : 0.99) * next.weight,
                         .thickness = slab == 2 ? std::optional(next.thickness) : std::nullopt});
        }
        std::vector<slab_use> uses;
        for (const actual_slab& slab : made.board().slabs())
            uses.push_back(slab.kind == slab_kind::portions ? slab_use{slab_use::way::trimmed_down, 0, 300.1_g}
                                                            : slab_use{slab_use::way::loose});
        made.finish(made.board().rest() > micrograms{} ? std::optional(to_mass(made.board().rest())) : std::nullopt);
        made.open(1);
        made.record({.weight = made.next()->weight});
        return made;
    }();
    return session;
}

/// With every way in which a slab can be used; whether they go together is for the session to say.
order_session_state with_uses() {
    order_session_state state = halfway().state();
    state.done.push_back(state.done.front());
    state.done.back().rest.reset();
    state.done.back().uses = {{slab_use::way::as_it_is, 0, 0.3012345678901234_kg},
                              {slab_use::way::trimmed_down, 0, 310_g},
                              {slab_use::way::halved, 0, 150_g},
                              {slab_use::way::other_cut, 3, 1_g / 3.0},
                              {slab_use::way::loose}};
    return state;
}

std::string refusal(const std::string& text) {
    try {
        (void)read_order_session_csv(text);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "taken";
}

} // namespace

TEST_CASE("order_session_csv: a session goes on from a file with the same advice") {
    const order_session_state state = halfway().state();
    REQUIRE((state.done.size() == 1 && state.board));
    REQUIRE((state.done[0].readings.entries.size() == 3 && state.board->readings.entries.size() == 1));
    const order_session_state read = read_order_session_csv(order_session_csv(state));
    CHECK(read == state);
    const order_session<usd> again(steaks_of_two_loins(9), read, {.ratio = 0.1, .knife = 0.3_mm});
    CHECK(again.next() == halfway().next());
    CHECK(again.plan() == halfway().plan());
    CHECK(again.state() == state);
}

TEST_CASE("order_session_csv: whatever is known of loins reads back to the last digit") {
    CHECK(read_order_session_csv(order_session_csv({})) == order_session_state{});
    order_session_state state = with_uses();
    CHECK(read_order_session_csv(order_session_csv(state)) == state);
    state.board.reset();
    CHECK(read_order_session_csv(order_session_csv(state)) == state);
}

TEST_CASE("order_session_csv: a table that was cut off is refused, wherever that was") {
    const order_session_state state = with_uses();
    const std::string text = order_session_csv(state);
    std::size_t taken = 0;
    for (std::size_t length = 0; length < text.size(); ++length) {
        const std::string part = text.substr(0, length);
        if (refusal(part) != "taken") continue;
        ++taken;
        CAPTURE(part);
        CHECK(read_order_session_csv(part) == state); // but for the end of its last line
    }
    CHECK(taken <= 2);
}

TEST_CASE("order_session_csv: a table that is none of an order is refused by line and column") {
    const std::string text = order_session_csv(with_uses());
    const auto with = [&](const std::string& what, const std::string& other) {
        std::string changed = text;
        const auto at = changed.find(what);
        REQUIRE(at != std::string::npos);
        return refusal(changed.replace(at, what.size(), other));
    };
    CHECK_THAT(refusal("a,b\r\n1,2\r\n"), ContainsSubstring("line 1"));
    CHECK_THAT(with("loin,0", "loin,first"), StartsWith("line 2, column 2") && ContainsSubstring("a whole number"));
    CHECK_THAT(with("loin,0", "join,0"), StartsWith("line 2, column 1: got \"join\", expected loin"));
    CHECK_THAT(with("off_the_board", "on_the_board"), ContainsSubstring("slab_kg or rest_kg"));
    CHECK_THAT(with("use_kg", "used_kg"), ContainsSubstring("use_kg, loin or end"));
    CHECK_THAT(with("trimmed down", "thrown away"), ContainsSubstring("as it is, trimmed down, halved, other cut or"));
    CHECK_THAT(with("whole_ug", "whole_g"), StartsWith("line 3, column 1"));
}

} // namespace order_session_csv_test
