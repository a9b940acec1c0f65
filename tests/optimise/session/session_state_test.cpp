// A session kept as a value: taken up again it gives the same advice to the last digit; a bad value is refused by name.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/literals.hpp>

#include "loin/samples.hpp"
#include "optimise/instances.hpp"

namespace session_state_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };

template <class Session>
void check_same(const Session& a, const Session& b) {
    CHECK(a.next() == b.next());
    CHECK(std::vector(a.plan_of_rest().begin(), a.plan_of_rest().end()) ==
          std::vector(b.plan_of_rest().begin(), b.plan_of_rest().end()));
    CHECK(std::vector(a.slabs().begin(), a.slabs().end()) == std::vector(b.slabs().begin(), b.slabs().end()));
    CHECK(a.shortfalls() == b.shortfalls());
    CHECK(a.account() == b.account());
    CHECK(a.why_stopped() == b.why_stopped());
    CHECK(a.position() == b.position());
    CHECK(a.estimate().ratio() == b.estimate().ratio());
    CHECK(a.estimate().ratio_spread() == b.estimate().ratio_spread());
    CHECK(a.estimate().bias() == b.estimate().bias());
    CHECK(a.estimate().correlation() == b.estimate().correlation());
    CHECK(a.state() == b.state());
}

template <class F>
std::string refused(const F& f) {
    try {
        f();
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "accepted";
}

const cut_spec steak{.name = "steak", .thickness = {22_mm, 40_mm}, .portion = {300_g, 380_g}, .kerf = 0.5_mm};

} // namespace

TEST_CASE("a session taken up again gives the same advice to the last digit, and takes back what it was told") {
    std::size_t resumed = 0, rests = 0;
    for (std::uint64_t seed = 1; seed <= rounds(80); ++seed) {
        CAPTURE(seed);
        dice d(seed + 11'000);
        request r = random_request(d, 10, 60);
        if (seed % 2 == 0) add_links(d, r);
        std::vector<demand> demands;
        if (seed % 3 == 0) demands.push_back(at_most(3, std::size_t{0}));
        const cutting_spreads spreads{.ratio = 0.05, .knife = 0.1 * r.meat.step()};
        const cutting_request asked{r.specs, r.rules, demands};
        cutting_session s(r.meat, asked, most, spreads);
        for (std::size_t entries = 0; s.next() && s.position() < r.meat.extent() && entries < 20; ++entries) {
            const cutting_session again(r.meat, asked, most, s.state());
            check_same(again, s);
            ++resumed;
            const next_cut advised = *s.next();
            if (d.once_in(4)) {
                const std::int64_t in_front = detail::profile_place::of(r.meat, s.position()).in(r.meat.cumulative());
                s.weigh_rest(d.between(0.98, 1.02) * s.estimate().ratio() * to_mass({r.meat.total().count - in_front}));
                ++rests;
                continue;
            }
            slab_reading reading{.weight = std::max(d.between(0.9, 1.1) * advised.weight, 1e-9 * kilogram)};
            if (!advised.last && d.once_in(2)) reading.thickness = advised.thickness;
            if (d.once_in(5)) reading.set = 1.05 * advised.set;
            s.record(reading);
        }
        cutting_session again(r.meat, asked, most, s.state());
        check_same(again, s);
        while (s.undo()) {
            REQUIRE(again.undo());
            check_same(again, s);
        }
        CHECK_FALSE(again.undo());
    }
    CHECK(resumed > 300);
    CHECK(rests > 30);
}

TEST_CASE("what is cut stays when prices or demands have changed in between") {
    const profile meat = tabulate(strip_loin(), 0.5_mm);
    const cut_spec fillet{.name = "fillet", .thickness = {22_mm, 40_mm}, .portion = {150_g, 190_g}, .pieces = 2};
    cutting_session s(meat, {{steak, fillet}, {.facing = 8_mm}, {exactly(3, "fillet")}}, most);
    s.record({.weight = s.next()->weight});
    s.record({.weight = s.next()->weight});
    const cutting_session again(meat, {{steak, fillet}, {.facing = 8_mm}, {at_least(4, "fillet")}}, least_waste(),
                                s.state());
    CHECK(again.slabs()[1] == s.slabs()[1]);
    CHECK(again.position() == s.position());
    const auto fillets = [&](const auto& session) {
        return detail::portions_in(session.plan_of_rest(), session.specs(), 1) +
               detail::portions_cut(session.slabs(), session.specs(), 1);
    };
    CHECK(fillets(again) >= 4);
}

TEST_CASE("a state that cannot be right is refused by name") {
    const profile meat = tabulate(strip_loin(), 0.5_mm);
    const cutting_request asked{steak, {.facing = 8_mm}, {}};
    cutting_session s(meat, asked, most);
    for (int i = 0; i < 3; ++i) s.record({.weight = s.next()->weight});
    s.weigh_rest(to_mass(s.rest()));
    const session_state good = s.state();
    REQUIRE(good.entries.size() == 4);
    CHECK(good.entries[3].rest);
    CHECK(good.entries[0].kind == slab_kind::facing);
    const auto with = [&](const auto& change) {
        session_state bad = good;
        change(bad);
        return refused([&] { static_cast<void>(cutting_session(meat, asked, most, bad)); });
    };
    CHECK(with([](session_state&) {}) == "accepted");
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THAT(with([](session_state& b) { b.whole += micrograms{1}; }), StartsWith("whole: got "));
    CHECK_THAT(with([](session_state& b) { b.extent = 30_cm; }), StartsWith("extent: got 300 mm"));
    CHECK_THAT(with([](session_state& b) { b.spreads.knife = -1_mm; }), StartsWith("knife: got -1 mm"));
    CHECK_THAT(with([&](session_state& b) { b.entries[1].weight = nan * kilogram; }),
               StartsWith("entries[1].weight: got nan"));
    CHECK_THAT(with([](session_state& b) { b.entries[2].weight = 100_kg; }),
               StartsWith("entries[2].weight: got 100000 g, expected at most what is left"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].thickness = 0_mm; }), StartsWith("entries[1].thickness: got"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].set = length{}; }), StartsWith("entries[1].set: got 0 mm"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].aimed = -1_mm; }), StartsWith("entries[1].aimed: got -1 mm"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].option = 7; }),
               StartsWith("entries[1].option: got 7, expected an index below the number of specs, 1"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].kind = static_cast<slab_kind>(9); }),
               StartsWith("entries[1].kind: got 9"));
    CHECK_THAT(with([](session_state& b) { b.entries[1].kind = slab_kind::facing; }),
               StartsWith("entries[1].kind: got facing"));
    CHECK_THAT(with([](session_state& b) { b.entries[3].weight = 1_g; }),
               StartsWith("entries[3].weight: got 1 g, expected within a quarter of"));
    CHECK_THAT(with([](session_state& b) {
                   b.entries[1].last = true;
                   b.entries[1].thickness.reset();
               }),
               StartsWith("entries[2].weight: got "));
}

} // namespace session_state_test
