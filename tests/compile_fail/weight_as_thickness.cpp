// A thickness range is not filled with weights.
// SPDX-License-Identifier: BSL-1.0
// gnu: could not convert .*quantity_range<
// clang: no matching constructor for initialization of .*quantity_range<
#include <tranche/cut/cut_spec.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    const cut_spec steak{.name = "steak", .thickness = {11_oz, 13_oz}};
#else
    const cut_spec steak{.name = "steak", .thickness = {0.9_in, 1.3_in}, .portion = {11_oz, 13_oz}};
#endif
    return steak.pieces - 1;
}
