// The test runner's main, for Catch2 2; Catch2 3 brings its own.
// SPDX-License-Identifier: BSL-1.0
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
