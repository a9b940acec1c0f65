// Has g++ 12 settle whether a string may throw when it is made, before an aggregate of strings is filled in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

namespace tranche::detail {

// The noexcept of std::string's constructor hangs on its allocator and is worked out when somebody asks. g++ 12 dies of an
// internal error ("in nothrow_spec_p") when the first to ask is the member of a class template in braces that are an
// argument, such as `{{.name = "steaks"}}` for a vector of weighed_part<usd>. What we have of that kind is money's, so
// units/currency.hpp includes this.
static_assert(noexcept(std::string{}));

} // namespace tranche::detail
