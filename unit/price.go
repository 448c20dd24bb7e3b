package unit

import "strings"

// A Price is money for one unit of something, such as a tariff: "0.27 EUR/kWh".
type Price struct {
	Amount   float64 // per joule for a tariff per kWh: see PerKilowattHour
	Currency string  // three letters, ISO 4217
}

// PerKilowattHour is the amount for one kilowatt hour.
func (p Price) PerKilowattHour() float64 { return p.Amount * 3.6e6 }

func (p Price) String() string {
	return Number(p.PerKilowattHour(), 3) + " " + p.Currency + "/kWh"
}

// Example is what a hint shows.
func (Price) Example() string { return "0.27 EUR/kWh" }

// UnmarshalText reads a tariff: a number, a currency of three capital letters, and "/kWh".
func (p *Price) UnmarshalText(text []byte) error {
	tariff := &Dimension{Name: "tariff", Example: p.Example()}
	number, name := split(strings.TrimSpace(string(text)))
	currency, _, _ := strings.Cut(name, "/")
	currency = strings.TrimSpace(currency)
	switch {
	case number != "" && strings.HasPrefix(name, ","):
		return comma(string(text), name)
	case len(currency) != 3 || strings.Trim(currency, capitals) != "":
		return tariff.wrong(string(text))
	}
	tariff.Example = "0.27 " + currency + "/kWh"
	tariff.read = map[string]float64{currency + "/kWh": 1 / 3.6e6}
	amount, err := tariff.Parse(string(text))
	if err == nil {
		*p = Price{Amount: amount, Currency: currency}
	}
	return err
}

const capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
