// SPDX-License-Identifier: Apache-2.0

package console

// leastWords is how many columns must be left for words to be wrapped, chosen: below
// it a column of single words would be harder to read. Doubled, narrow panes get long lines.
const leastWords = 20
