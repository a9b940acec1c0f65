// Lets the same test sources compile with Catch2 2.13 and 3: macros, Approx, and matchers under one name.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
#else
#include <catch2/catch.hpp>
#endif

/// Tests say `using namespace tranche_test;` and get Catch2's names as version 3 spells them.
namespace tranche_test {

#if __has_include(<catch2/catch_all.hpp>)
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::Predicate;
#else
using Catch::Detail::Approx;
using Catch::Matchers::Predicate;

inline auto ContainsSubstring(const std::string& part, Catch::CaseSensitive::Choice how = Catch::CaseSensitive::Yes) {
    return Catch::Matchers::Contains(part, how);
}
#endif

using Catch::Matchers::EndsWith;
using Catch::Matchers::Equals;
using Catch::Matchers::Matches;
using Catch::Matchers::Message;
using Catch::Matchers::StartsWith;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using Catch::Matchers::WithinULP;

} // namespace tranche_test
