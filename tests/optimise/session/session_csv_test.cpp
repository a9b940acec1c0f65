// A session in a file: read back it is the same, to the last digit; a table that was cut off or changed is refused by its place.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <string>

#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/session/session_csv.hpp>
#include <tranche/units/literals.hpp>

#include "loin/samples.hpp"
#include "optimise/instances.hpp"

namespace session_csv_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };

session_state some_state(std::uint64_t seed) {
    dice d(seed + 31'000);
    const request r = random_request(d, 10, 60);
    cutting_session s(r.meat, {r.specs, r.rules, {}}, most,
                      {.ratio = d.between(0.01, 0.1), .knife = 0.1 * r.meat.step()});
    for (int i = 0; s.next() && i < 6; ++i) try {
            const next_cut next = *s.next();
            if (d.once_in(4))
                s.weigh_rest(d.between(0.99, 1.01) * to_mass(s.rest()));
            else
                s.record({.weight = d.between(0.97, 1.03) * next.weight,
                          .thickness = d.once_in(2) ? std::optional(next.thickness) : std::nullopt});
        } catch (const invalid_input&) { // a reading that this session does not believe
        }
    return s.state();
}

std::string refusal(const std::string& text) {
    try {
        (void)read_session_csv(text);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "taken";
}

} // namespace

TEST_CASE("a session that was written is read back to the last digit") {
    std::size_t entries = 0;
    for (std::uint64_t seed = 1; seed <= rounds(60); ++seed) {
        CAPTURE(seed);
        const session_state state = some_state(seed);
        CHECK(read_session_csv(session_csv(state)) == state);
        entries += state.entries.size();
    }
    CHECK(entries > 100);
}

TEST_CASE("a table that was cut off is refused, or is the session of fewer entries") {
    const session_state state = some_state(7);
    const std::string text = session_csv(state);
    REQUIRE(state.entries.size() > 2);
    for (std::size_t length = 0; length < text.size(); ++length) {
        const std::string part = text.substr(0, length);
        if (refusal(part) != "taken") continue;
        CAPTURE(part);
        const session_state read = read_session_csv(part);
        // Only a last number can have lost digits; whoever goes on from it is refused or sees it.
        REQUIRE(read.entries.size() <= state.entries.size());
        for (std::size_t i = 0; i + 1 < read.entries.size(); ++i) CHECK(read.entries[i] == state.entries[i]);
    }
}

TEST_CASE("a table that is none of a session is refused by line and column") {
    const std::string text = session_csv(some_state(7));
    const auto with = [&](const std::string& what, const std::string& other) {
        std::string changed = text;
        const auto at = changed.find(what);
        REQUIRE(at != std::string::npos);
        return refusal(changed.replace(at, what.size(), other));
    };
    CHECK_THAT(refusal(""), ContainsSubstring("nothing"));
    CHECK_THAT(refusal("a,b\r\n1,2\r\n"), ContainsSubstring("line 1"));
    CHECK_THAT(with("thickness_m", "thick"), ContainsSubstring("line 1, column 3") && ContainsSubstring("thickness_m"));
    CHECK_THAT(with("extent_m", "length"), ContainsSubstring("line 3, column 1"));
    CHECK_THAT(with("slab_kg,", "slab_lb,"), ContainsSubstring("slab_kg or rest_kg"));
    CHECK_THAT(with("slab_kg,", "slab_kg,x"), ContainsSubstring("a number"));
    CHECK_THAT(with(",no,", ",maybe,"), ContainsSubstring("yes or no"));
}

} // namespace session_csv_test
