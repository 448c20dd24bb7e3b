// Package farend is the map of the house; it holds no code.
//
// Farend turns "light along here" into an addressable-LED installation, and the fused distribution board that feeds it.
// Packages are rooms; imports point down only, and laws_test.go enforces it.
//
//	GROUND  unit         quantities as the trade writes them
//	        finding      what the user may be told: findings, mistakes, edits
//	        circuit      the operating point of a nonlinear DC network
//	        draw         pen and paper: a page as plain data, written as SVG, PDF, PNG and DXF
//	        layout       things on pages: paper, title block, labels, tables, flowing text
//	        split        runs of pixels over data ports: which port sends to what
//	        line         a pulse on a pair of conductors, by travelling waves
//	THINGS  conductor    copper: resistance, temperature, ampacity
//	        fuse         fuse links: resistance
//	        supply       power supplies: set point and limit
//	        pixel        one pixel: amperes, light and colour at a voltage
//	        parts        the catalogue: every number with its basis
//	        scheme       the design document, read strictly
//	BRIDGE  network      scheme and parts to circuit, and back
//	        study        the one pipeline, and what a rule is
//	        remedy       which change would do, and changes made until nothing is left to mend
//	JUDGES  survey       does what is drawn agree with what is listed?
//	        protection   what carries current, may it?
//	        board        inlets, ways, junctions
//	        signal       will the data arrive?
//	        light        what the viewer gets
//	MAKERS  rulebook     the list of all rules
//	        addressing   pixels as universes and slots
//	        sizing       a first scheme for a wish
//	        sheet        which drawings there are; its rooms draw them:
//	          drafting   what all of them share
//	          plan       where everything goes
//	          night      what it will look like
//	          wiring     what is joined to what: single-line diagram, board faces
//	          runsheet   one run, to cut and solder by
//	          profile    one run, pixel by pixel
//	          chart      fuses, faults and pulses as curves
//	        report       text and tables: findings, schedules, what the numbers rest on
//	        commission   what to measure before and while it is first live, with what to expect
//	ROOF    cmd/farend   the command
//
// Plumbing is in internal/; docs/architecture.md tells the story from the bottom up.
package farend
