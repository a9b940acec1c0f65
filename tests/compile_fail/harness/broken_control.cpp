// For the harness: a control that does not compile must be reported.
// SPDX-License-Identifier: BSL-1.0
// message: fractions of a slice are not sold
int main() {
#ifdef TRANCHE_NONSENSE
    static_assert(false, "fractions of a slice are not sold");
#else
    sell(1);
#endif
}
