// That the concept takes what is a loin and not what nearly is one.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>

#include "loin/samples.hpp"

namespace loin_model_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct least_loin {
    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] static face face_at(length) { return {}; }
};
struct only_an_area {
    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] static area face_at(length) { return 90_cm2; }
};
struct length_without_unit {
    [[nodiscard]] static double extent() { return 0.4; }
    [[nodiscard]] static face face_at(length) { return {}; }
};
struct face_of_no_station {
    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] static face face_at() { return {}; }
};
struct not_to_be_shared {
    [[nodiscard]] length extent() { return calls++ > 0 ? 40_cm : 41_cm; }
    [[nodiscard]] static face face_at(length) { return {}; }
    int calls = 0;
};
struct with_a_check : least_loin {
    bool good = true;
};
void validate(const with_a_check& loin) {
    if (!loin.good) throw invalid_input("good", "no", "yes");
}

static_assert(loin_model<prism_loin> && loin_model<tapered_loin> && loin_model<measured_loin>);
static_assert(loin_model<calibrated_loin<prism_loin>> && loin_model<calibrated_loin<calibrated_loin<least_loin>>>);
static_assert(loin_model<least_loin>);
static_assert(!loin_model<only_an_area> && !loin_model<length_without_unit> && !loin_model<face_of_no_station> &&
              !loin_model<not_to_be_shared> && !loin_model<int>);

struct fill_without_another : least_loin {
    [[nodiscard]] static fraction fill() { return 0.8; }
};
static_assert(detail::leaves_fill_open<prism_loin> && detail::leaves_fill_open<tapered_loin> &&
              detail::leaves_fill_open<measured_loin> && detail::leaves_fill_open<calibrated_loin<measured_loin>>);
static_assert(detail::leaves_fill_open<slanted_loin<measured_loin>> &&
              !detail::leaves_fill_open<slanted_loin<traced_loin>>);
static_assert(detail::refilled_as_a_whole<calibrated_loin<slanted_loin<measured_loin>>> &&
              !detail::refilled_as_a_whole<calibrated_loin<measured_loin>> &&
              !detail::refilled_as_a_whole<measured_loin>);
static_assert(!detail::leaves_fill_open<least_loin> && !detail::leaves_fill_open<fill_without_another> &&
              !detail::leaves_fill_open<calibrated_loin<least_loin>>);
static_assert(detail::reads_columns<measured_loin> && detail::reads_columns<calibrated_loin<least_loin>> &&
              !detail::reads_columns<least_loin>);

} // namespace

TEST_CASE("a model's own check is called where there is one") {
    CHECK_NOTHROW(validate_model(least_loin{}));
    CHECK_NOTHROW(validate_model(with_a_check{}));
    with_a_check bad;
    bad.good = false;
    CHECK(message_of([&] { validate_model(bad); }) == "good: got no, expected yes");
    CHECK(message_of([&] { validate_model(calibrated_loin<with_a_check>{bad, 1.0}); }) == "good: got no, expected yes");
}

} // namespace loin_model_test
