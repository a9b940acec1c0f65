// Products valued in one currency carry no cost in another.
// SPDX-License-Identifier: BSL-1.0
// gnu: no matching function for call to 'allocate_joint_cost
// gnu: conflicting types for parameter 'C' .*tranche::usd.*tranche::eur
// clang: no matching function for call to 'allocate_joint_cost'
// clang: deduced conflicting types for parameter 'C' .*tranche::usd.*tranche::eur
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>

using namespace tranche;

int main() {
#ifdef TRANCHE_NONSENSE
    const std::vector<joint_product<eur>> products(1);
#else
    const std::vector<joint_product<usd>> products(1);
#endif
    return static_cast<int>(allocate_joint_cost(amount<usd>{100}, products, joint_method::physical_measure).lines.size());
}
