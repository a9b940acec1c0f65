// Known answers.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/philox.hpp>

#include "support/catch.hpp"

namespace philox_test {

using namespace tranche;
using namespace tranche_test;

// The known-answer vectors of the Random123 distribution (kat_vectors, "philox4x32 10"): Salmon et al., SC'11.
TEST_CASE("Philox4x32-10 answers the known-answer vectors of Random123") {
    CHECK(philox_words({0, 0, 0, 0}, {0, 0}) == philox_counter{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
    constexpr std::uint32_t ones = 0xffffffff;
    CHECK(philox_words({ones, ones, ones, ones}, {ones, ones}) ==
          philox_counter{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
    // Digits of pi in hexadecimal.
    CHECK(philox_words({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
          philox_counter{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
}

TEST_CASE("Philox is known while compiling") {
    constexpr philox_counter words = philox_words({0, 0, 0, 0}, {0, 0});
    STATIC_REQUIRE(words[0] == 0x6627e8d5);
}

} // namespace philox_test
