// A way to keep what is long to compile out of programs that do not call it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

namespace tranche::detail {

/// `template <class = when_called>` stands in front of functions and classes that need no template parameter, but whose
/// insides take a compiler seconds (an engine for one objective, a decomposition): as templates they are compiled where they
/// are used and nowhere else. They are called as if it were not there.
struct when_called {};

} // namespace tranche::detail
