// Offers in two currencies have no common ranking.
// SPDX-License-Identifier: BSL-1.0
// gnu: no matching function for call to .*push_back
// clang: no matching member function for call to 'push_back'
// message: offer<tranche::eur>
#include <tranche/cost/savings/offers.hpp>

using namespace tranche;

int main() {
    std::vector<offer<usd>> offers;
#ifdef TRANCHE_NONSENSE
    offers.push_back(offer<eur>{});
#else
    offers.push_back(offer<usd>{});
#endif
    return offers.size() == 1 ? 0 : 1;
}
