// Package calculator reads the formulas of physical.Work as a pocket calculator
// would: numbers, + - * / ^, parentheses, sqrt, abs, atan2 and pi. Tests hold the
// steps that are shown to a reader against it.
package calculator

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Evaluate works an expression out.
func Evaluate(expression string) (value float64, err error) {
	p := &parser{rest: expression}
	defer func() {
		if r := recover(); r != nil {
			wrong, ok := r.(syntaxError)
			if !ok {
				panic(r)
			}
			err = fmt.Errorf("reading %q: %s", expression, string(wrong))
		}
	}()
	value = p.sum()
	p.skip()
	if p.rest != "" {
		p.fail("an operator")
	}
	return value, nil
}

type syntaxError string

type parser struct{ rest string }

func (p *parser) fail(expected string) {
	panic(syntaxError(fmt.Sprintf("expected %s before %q", expected, p.rest)))
}

func (p *parser) skip() { p.rest = strings.TrimLeftFunc(p.rest, unicode.IsSpace) }

// take consumes one of the characters if it is next.
func (p *parser) take(any string) byte {
	p.skip()
	if p.rest == "" || !strings.Contains(any, p.rest[:1]) {
		return 0
	}
	c := p.rest[0]
	p.rest = p.rest[1:]
	return c
}

func (p *parser) need(c string) {
	if p.take(c) == 0 {
		p.fail(c)
	}
}

func (p *parser) sum() float64 {
	v := p.product()
	for {
		switch p.take("+-") {
		case '+':
			v += p.product()
		case '-':
			v -= p.product()
		default:
			return v
		}
	}
}

func (p *parser) product() float64 {
	v := p.power()
	for {
		switch p.take("*/") {
		case '*':
			v *= p.power()
		case '/':
			v /= p.power()
		default:
			return v
		}
	}
}

// power binds tighter than a sign: -2^2 is -4.
func (p *parser) power() float64 {
	if p.take("-") != 0 {
		return -p.power()
	}
	v := p.atom()
	if p.take("^") != 0 {
		return math.Pow(v, p.power())
	}
	return v
}

func (p *parser) atom() float64 {
	p.skip()
	if p.take("(") != 0 {
		v := p.sum()
		p.need(")")
		return v
	}
	end := strings.IndexFunc(p.rest, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' })
	if end < 0 {
		end = len(p.rest)
	}
	word := p.rest[:end]
	if strings.HasSuffix(word, "e") && end+1 < len(p.rest) && strings.ContainsAny(word[:1], "0123456789") {
		// An exponent with its sign.
		digits := strings.IndexFunc(p.rest[end+1:], func(r rune) bool { return !unicode.IsDigit(r) })
		if digits < 0 {
			digits = len(p.rest) - end - 1
		}
		end += 1 + digits
		word = p.rest[:end]
	}
	if v, err := strconv.ParseFloat(word, 64); err == nil {
		p.rest = p.rest[end:]
		return v
	}
	return p.function(word)
}

func (p *parser) function(word string) float64 {
	if word != "pi" && word != "sqrt" && word != "abs" && word != "atan2" {
		p.fail("a number")
	}
	p.rest = p.rest[len(word):]
	if word == "pi" {
		return math.Pi
	}
	p.need("(")
	v := p.sum()
	switch word {
	case "sqrt":
		v = math.Sqrt(v)
	case "abs":
		v = math.Abs(v)
	case "atan2":
		p.need(",")
		v = math.Atan2(v, p.sum())
	}
	p.need(")")
	return v
}
