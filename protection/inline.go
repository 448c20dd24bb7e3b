package protection

import (
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// inline names the largest inline fuse of the library that suits a cable which has none yet, and may carry so much.
func inline(s *study.Study, cable string, iz unit.Ampere) string {
	g, _ := s.Guard(cable + ".fuse")
	g.Part, g.Fuse = "fuse/inline-", &parts.Fuse{Holder: "inline"}
	return suited(s, g, iz)
}
