// SPDX-License-Identifier: Apache-2.0

package remedy

// fewest finds the smallest number of steps that does. It takes for granted that turning
// further does not undo it. A step that is not in bounds ends the way.
func fewest(does func(int) (does, in bool)) (int, bool) {
	failing, out := 0, 1
	for out <= mostSteps {
		ok, in := does(out)
		if !in {
			break
		}
		if ok {
			return halve(failing, out, does), true
		}
		failing, out = out, out*2
	}
	for out-failing > 1 { // look for the last step inside the bounds
		mid := (failing + out) / 2
		ok, in := does(mid)
		switch {
		case !in:
			out = mid
		case ok:
			return halve(failing, mid, does), true
		default:
			failing = mid
		}
	}
	return 0, false
}

// halve narrows the steps between one that fails and one that does.
func halve(failing, doing int, does func(int) (does, in bool)) int {
	for doing-failing > 1 {
		mid := (failing + doing) / 2
		if ok, in := does(mid); in && ok {
			doing = mid
		} else {
			failing = mid
		}
	}
	return doing
}
