// Money is written as a sum, per weight or per hour, and as nothing else.
// SPDX-License-Identifier: BSL-1.0
// message: no matching function for call to .*to_text
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

int main() {
    using namespace tranche::literals;
#ifdef TRANCHE_NONSENSE
    const auto text = tranche::to_text(7.90_usd / 1_m);
#else
    const auto text = tranche::to_text(7.90_usd / 1_h);
#endif
    return text.empty() ? 1 : 0;
}
