// Has g++ 12 settle whether a member may throw when it is made, before an aggregate with such a member is filled in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

namespace tranche::detail {

/// Whether making a `T` may throw is worked out when somebody asks, and g++ 12 dies of an internal error ("in nothrow_spec_p")
/// when the first to ask is a class template's member that has `{}` behind it, in braces that are an argument, such as
/// `{{.name = "steaks"}}` for a vector of weighed_part<usd>. So whoever gives such a template a member of a class that does
/// not depend on its parameter asks first: `static_assert(settled<T>)`. tests/starts has a program for each.
template <class T>
inline constexpr bool settled = noexcept(T{}) || true;

// Our templates of this kind are money's, so units/currency.hpp includes this.
static_assert(settled<std::string>);

} // namespace tranche::detail
