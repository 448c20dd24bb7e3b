package signal_test

import (
	"testing"

	"farend/internal/schemetest"
	"farend/signal"
)

func TestSchemesAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/*.scheme.yaml", signal.Rules())
}
