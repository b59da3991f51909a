package domain

import (
	"fmt"
	"strconv"
	"strings"
)

// Money is an amount in whole cents, without a currency: an event is paid in one, and nothing here converts. Sums,
// comparisons and == are those of whole numbers. It is never negative, except as the difference of two amounts.
//
//	150      is 15000
//	150.50   is 15050, and so is 150.5, as programs write it
//	1,250.50 is refused, because a comma is a decimal sign in one country and groups thousands in another
type Money int64

// maxMoney bounds an amount that is typed: no purse of a pull comes near ten million, and the sum of all that a
// file can hold stays within 64 bits.
const maxMoney Money = 1_000_000_000 // 10,000,000.00

// ParseMoney reads an amount in figures, with two decimals at most. Spaces around it are allowed; signs, commas and
// currency signs are not.
func ParseMoney(s string) (Money, error) {
	const fix = "write figures such as 150 or 150.50"
	s = strings.TrimSpace(s)
	whole, cents, pointed := strings.Cut(s, ".")
	if whole == "" || pointed && cents == "" || len(cents) > 2 || !onlyDigits(whole) || !onlyDigits(cents) {
		return 0, invalid("amount", fmt.Sprintf("%q is not an amount of money", s), fix)
	}
	amount, err := strconv.ParseInt(whole+(cents + "00")[:2], 10, 64)
	if err != nil || Money(amount) > maxMoney {
		return 0, invalid("amount", fmt.Sprintf("%q is too large an amount", s), "write at most "+maxMoney.String())
	}
	return Money(amount), nil
}

// String writes the amount with two decimals: "150.00", "0.05".
func (m Money) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

// percent returns so many hundredths of the amount, rounded down to the cent: 50 % of 0.25 is 0.12.
func (m Money) percent(share int) Money { return m * Money(share) / 100 }

// even returns the i-th of n equal parts of the amount. What cannot be parted evenly goes to the first ones, one cent
// each, so that the parts add up: 100.00 in three parts is 33.34, 33.33, 33.33.
func (m Money) even(n, i int) Money {
	part, odd := m/Money(n), m%Money(n)
	if Money(i) < odd {
		part++
	}
	return part
}

// sum adds a list of amounts.
func sum(amounts []Money) (total Money) {
	for _, amount := range amounts {
		total += amount
	}
	return total
}
