// For the harness: refused inside a function template, with a message of our own and one of each compiler's.
// SPDX-License-Identifier: BSL-1.0
// message: fractions of a slice are not sold
// gnu: required from here
// clang: in instantiation of function template
#include <type_traits>

template <class Count>
void sell(Count) {
    static_assert(std::is_integral_v<Count>, "fractions of a slice are not sold");
}

int main() {
#ifdef TRANCHE_NONSENSE
    sell(1.5);
#else
    sell(1);
#endif
}
