// The version of the library, for the preprocessor and for programs.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <compare>
#include <string_view>

// The build reads the version from these three lines, so it is written nowhere else.
#define TRANCHE_VERSION_MAJOR 0
#define TRANCHE_VERSION_MINOR 2
#define TRANCHE_VERSION_PATCH 0

namespace tranche {

/// A version by semantic versioning 2.0.0; while `major` is 0, a step of `minor` may break what used to compile.
struct version_number {
    int major{};
    int minor{};
    int patch{};

    friend constexpr auto operator<=>(const version_number&, const version_number&) = default;
};

/// The version of these headers, to be compared in a program: `static_assert(tranche::version >= version_number{0, 2})`.
inline constexpr version_number version{TRANCHE_VERSION_MAJOR, TRANCHE_VERSION_MINOR, TRANCHE_VERSION_PATCH};

#define TRANCHE_TEXT_OF_EXPANDED(x) #x
#define TRANCHE_TEXT_OF(x) TRANCHE_TEXT_OF_EXPANDED(x)

/// The same as text, "major.minor.patch".
inline constexpr std::string_view version_text = TRANCHE_TEXT_OF(TRANCHE_VERSION_MAJOR) "." TRANCHE_TEXT_OF(
    TRANCHE_VERSION_MINOR) "." TRANCHE_TEXT_OF(TRANCHE_VERSION_PATCH);

#undef TRANCHE_TEXT_OF
#undef TRANCHE_TEXT_OF_EXPANDED

} // namespace tranche
