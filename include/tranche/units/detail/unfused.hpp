// Products that are rounded by themselves, so that results do not depend on whether the compiler fuses multiply and add.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <type_traits>

namespace tranche::detail {

/// The product as it is, and never a part of a fused multiply-add: `a + unfused(b * c)` rounds twice, on every target and at
/// every level of optimisation. Without it a mass that lies near the middle between two micrograms, or an amount near half a
/// minor unit, comes out differently where the target has such an instruction: clang then fuses within an expression
/// (`-ffp-contract=on`), g++ across statements and inlined calls (`-ffp-contract=fast`), both by default. An argument is an
/// expression of its own, so for clang the call is enough (but not with its `-ffp-contract=fast`: outlines of traced loins
/// then differ in their last bits, and a mass perhaps by a microgram); g++ is told that the value may change (its
/// `__builtin_assoc_barrier` is lost in loops that g++ 12 vectorises). Where there is nothing to fuse it costs nothing.
///
/// Every product that is added to or subtracted from and ends in a mass, a plan or an amount goes through here. Products with
/// a power of two are exact, and need not.
template <class Product>
[[nodiscard]] constexpr Product unfused(Product product) {
    if constexpr (std::same_as<Product, double>) {
#if defined(__GNUC__) && !defined(__clang__) && defined(__FP_FAST_FMA)
        if (!std::is_constant_evaluated()) {
#if defined(__x86_64__) || defined(__i386__)
            asm("" : "+x"(product));
#elif defined(__aarch64__)
            asm("" : "+w"(product));
#else
            asm("" : "+m"(product));
#endif
        }
#endif
        return product;
    } else { // a quantity
        return Product::from_value(unfused(product.value()));
    }
}

} // namespace tranche::detail
