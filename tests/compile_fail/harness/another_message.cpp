// For the harness: nonsense refused for another reason must be reported, though its source line has the words.
// SPDX-License-Identifier: BSL-1.0
// message: fractions of a slice are not sold
void sell(int) {}

int main() {
#ifdef TRANCHE_NONSENSE
    sell_("fractions of a slice are not sold");
#else
    sell(1);
#endif
}
