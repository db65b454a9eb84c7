// SPDX-License-Identifier: Apache-2.0

package budget

import "math"

// Allowance is by how much a line's margin is less in a built machine than as drawn, on
// the average and at one standard deviation, in the line's unit.
type Allowance struct{ Mean, Sigma float64 }

// And adds what is independent of it. Source: JCGM 100:2008 (GUM), 5.1.2.
func (a Allowance) And(b Allowance) Allowance {
	return Allowance{a.Mean + b.Mean, math.Hypot(a.Sigma, b.Sigma)}
}

// Times is the same in another unit.
func (a Allowance) Times(by float64) Allowance { return Allowance{a.Mean * by, a.Sigma * by} }

// Part is how much of the allowance there is where a sum of it and others lacks so many
// standard deviations most likely: each has its share by variance. Source: Hasofer and Lind,
// J. Eng. Mech. Div. ASCE 100 (1974) 111 (design point; from memory).
func (a Allowance) Part(all Allowance, sigmas float64) float64 {
	if all.Sigma == 0 {
		return a.Mean
	}
	return a.Mean + sigmas*a.Sigma*a.Sigma/all.Sigma
}

// Either is an error that hurts either way: the half-normal distribution of one with so
// many metres within two standard deviations, or half of a uniform one. Source: Leone,
// Nelson and Nottingham, Technometrics 3 (1961) 543 (from memory); JCGM 100:2008, 4.3.7.
func Either(t Tolerance) Allowance {
	if t.Shape == Uniform {
		return Allowance{t.Within / 2, t.Within / math.Sqrt(12)}
	}
	return Allowance{t.Sigma() * math.Sqrt(2/math.Pi), t.Sigma() * math.Sqrt(1-2/math.Pi)}
}

// WorstOf is what the worst of n pieces lacks of a tolerance that each piece has of its own:
// mean and standard deviation of the largest of n normal ones, good to 4 %. Source: Blom,
// Statistical Estimates and Transformed Beta-Variables (1958) (from memory).
func WorstOf(n int, sigma float64) Allowance {
	m := max(1, float64(n))
	if m == 1 {
		return Allowance{0, sigma}
	}
	mean := math.Sqrt2 * math.Erfinv(2*(m-0.375)/(m+0.25)-1)
	return Allowance{sigma * mean, sigma / math.Sqrt(1+0.82*math.Log(m))}
}

// Crowd is so many pieces with the same allowance, each with a deviation of its own, and with
// something evenly spread from nothing to most on top.
type Crowd struct {
	Count int
	Allowance
	Most float64
}

// below is the share of the crowd's machines of which no piece lacks more than x. Source:
// normal distribution; its integral, where something evenly spread comes on top.
func (c Crowd) below(x float64) float64 {
	sigma := math.Max(c.Sigma, leastSigma)
	z := (x - c.Mean) / sigma
	one := math.Erfc(-z/math.Sqrt2) / 2
	if over := c.Most / sigma; over > leastEven {
		sum := func(z float64) float64 {
			return z*math.Erfc(-z/math.Sqrt2)/2 + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
		}
		one = math.Max(0, sum(z)-sum(z-over)) / over
	}
	return math.Pow(one, float64(c.Count))
}

// Largest is what the worst of some crowds lacks: mean and standard deviation of the largest
// of independent normal ones, of which each crowd has its own, by their distribution, the
// product of all. Accuracy 1e-3 of a standard deviation. Source: David and Nagaraja, Order
// Statistics, 5.2 (from memory).
func Largest(of []Crowd) Allowance {
	from, to := math.Inf(-1), math.Inf(-1)
	for _, c := range of {
		from, to = math.Max(from, c.Mean-tailSigmas*c.Sigma), math.Max(to, c.Mean+c.Most+tailSigmas*c.Sigma)
	}
	step := (to - from) / largestSteps
	below, first := 0.0, 0.0 // integrals of the distribution, and of it times the way up to its end
	for i := range largestSteps {
		x, share := from+(float64(i)+0.5)*step, 1.0
		for _, c := range of {
			share *= c.below(x)
		}
		below, first = below+share*step, first+2*share*(to-x)*step
	}
	first -= step * step / 12 // the midpoints' own, since the way up ends in a corner: Euler and Maclaurin
	return Allowance{to - below, math.Sqrt(math.Max(0, first-below*below))}
}

// Quantile is what is not exceeded as surely as the normal distribution is by so many standard
// deviations: by either tail, with the size of an error of its own on top of both.
func Quantile(tails [2]Allowance, own Tolerance, sigmas float64) float64 {
	share := math.Erfc(sigmas/math.Sqrt2) / 2
	to := own.Within
	if own.Shape != Uniform && own.Shape != Triangular {
		to = sizeSigmas * own.Sigma()
	}
	beyond := func(x float64) float64 {
		sum, all := 0.0, 0.0
		for i := range sizeSteps {
			size, weight := to*(float64(i)+0.5)/sizeSteps, 1.0
			switch own.Shape {
			case Uniform:
			case Triangular:
				weight = 1 - size/to
			default:
				weight = math.Exp(-size * size / (2 * own.Sigma() * own.Sigma()))
			}
			if to == 0 {
				weight = 1
			}
			for _, t := range tails {
				sum += weight * math.Erfc((x-size-t.Mean)/(math.Sqrt2*math.Max(t.Sigma, leastSigma))) / 2
			}
			all += weight
		}
		return sum / all
	}
	lo, hi := math.Inf(-1), 0.0
	for _, t := range tails {
		lo, hi = math.Max(lo, t.Mean-tailSigmas*t.Sigma), math.Max(hi, t.Mean+tailSigmas*t.Sigma+to)
	}
	for range halvings {
		if m := (lo + hi) / 2; beyond(m) > share {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}
