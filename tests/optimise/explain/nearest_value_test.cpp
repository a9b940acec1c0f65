// The search for the nearest value of a limit by itself: what it asks for, and what it does when hopes are in vain.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <variant>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/detail/nearest_value.hpp>
#include <tranche/units/literals.hpp>

namespace nearest_value_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Asks for the nearest fat cover that a whole trim of so many millimetres may leave, where 12 mm is all there is.
struct fat_question {
    profile meat =
        tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm, .fat_cover = 12_mm}}, 10_mm);
    cutting_request request{.cuts = {{.name = "steak", .thickness = 30_mm}}};
    std::size_t asked = 0, hoped = 0;

    explicit fat_question(double left_mm) { request.rules.trim_whole.fat_cover = left_mm * millimetre; }

    /// In millimetres; `works` and `might` are asked about hundredths of them.
    template <class Works, class Might>
    std::optional<double> nearest(const Works& works, const Might& might) {
        const auto hundredths = [](const cutting_request& r) {
            return std::llround(r.rules.trim_whole.fat_cover / (0.01 * millimetre));
        };
        const request_limit limit{request_limit::kind::whole_fat_left, 0};
        const auto found = detail::nearest_value(
            meat, request, limit, {},
            [&](const cutting_request& r) {
                ++asked;
                return works(hundredths(r));
            },
            [&](const cutting_request& r) {
                ++hoped;
                return might(hundredths(r));
            });
        if (!found) return std::nullopt;
        return std::get<length>(*found) / millimetre;
    }
};

constexpr auto always = [](std::int64_t) { return true; };
constexpr auto not_at_all = [](std::int64_t) { return false; };

} // namespace

TEST_CASE("what cannot work anywhere is asked once each way") {
    fat_question q(5.0);
    CHECK_FALSE(q.nearest(always, not_at_all));
    CHECK(q.hoped == 2);
    CHECK(q.asked == 0);
}

TEST_CASE("the nearer way is taken, and the one that leaves more of two equally near") {
    fat_question both(5.0);
    CHECK_THAT(both.nearest([](std::int64_t h) { return h == 520 || h == 490; }, always).value(), WithinAbs(4.9, 1e-9));
    fat_question tie(5.0);
    CHECK_THAT(tie.nearest([](std::int64_t h) { return h == 510 || h == 490; }, always).value(), WithinAbs(5.1, 1e-9));
    fat_question all(100.0); // leaves all there is
    CHECK_THAT(all.nearest(always, always).value(), WithinAbs(11.99, 1e-9));
    fat_question none(0.0);
    CHECK_THAT(none.nearest([](std::int64_t h) { return h >= 1200; }, [](std::int64_t h) { return h >= 0; }).value(),
               WithinAbs(12.0, 1e-9));
}

TEST_CASE("where hopes are in vain the search is given up for doubling and halving") {
    // All that leave 9 mm or more work. Asked one after the other, it would take some 800 looks from 1 mm to there.
    fat_question q(1.0);
    CHECK_THAT(q.nearest([](std::int64_t h) { return h >= 900; }, always).value(), WithinAbs(9.0, 1e-9));
    CHECK(q.asked + q.hoped < 2 * 200 + 50);
    fat_question nowhere(1.0);
    CHECK_FALSE(nowhere.nearest(not_at_all, always));
    CHECK(nowhere.asked + nowhere.hoped < 2 * 200 + 50);
}

} // namespace nearest_value_test
