package circuit_test
import ("testing";"farend/circuit";"fmt")
func dump(t *testing.T, p *circuit.Plan, from *circuit.Point, old, v *circuit.Values, x, y *circuit.Point) {
	fmt.Printf("%+v\n", p.Shape())
	for i := range p.Shape().Wires { a,b := old.Wire(i), v.Wire(i); m:=""; if a!=b {m="*"}; fmt.Printf("wire %d %v: %v -> %v %s\n", i, p.Shape().Wires[i], a.G, b.G, m) }
	for i := range p.Shape().Sources { fmt.Printf("src %d %v: %+v -> %+v plain %v %v %v\n", i, p.Shape().Sources[i], old.Source(i), v.Source(i), from.Plain(i), x.Plain(i), y.Plain(i)) }
	for i := range p.Shape().Chains { fmt.Printf("chain %d: %+v -> %+v\n", i, old.Rails(i), v.Rails(i)) }
	fmt.Printf("bridge %+v -> %+v amps %v %v %v\n", old.Bridge(), v.Bridge(), from.BridgeAmps(), x.BridgeAmps(), y.BridgeAmps())
	for n := range p.Shape().Nodes { fmt.Println(n, from.Volts(n), x.Volts(n), y.Volts(n), from.Live(n), y.Live(n), from.Datum(n), y.Datum(n)) }
}
