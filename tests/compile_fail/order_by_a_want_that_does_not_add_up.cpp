// Scores of which the first decides do not add up over the loins of an order.
// SPDX-License-Identifier: BSL-1.0
// message: an order takes wants that add up over loins, as best_value.prices. does
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/orders/plan_order.hpp>

using namespace tranche;

int main() {
    const order<usd> wanted;
    try {
#ifdef TRANCHE_NONSENSE
        static_cast<void>(plan_order(wanted, least_giveaway()));
#else
        static_cast<void>(plan_order(wanted, best_value(price_list<usd>{})));
#endif
    } catch (const invalid_input&) {
        return 0; // without loins
    }
    return 1;
}
