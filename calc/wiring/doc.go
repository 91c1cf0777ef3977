// Package wiring holds connectors, the parts that go between them, and the
// search for the shortest way from one to another; and it gives rows places at
// least cost, and tells whether a signal comes round. It is pure graph search:
// it knows no catalogue by name and reads no file.
//
// A connector is a node. A part (a lead, an adapter, a converter) is an arrow
// from the connector that it takes to the connector that it then offers; a part
// that works both ways is two arrows. A way back is never assumed.
//
// Connectors carry signals, have a rated impedance and are balanced or not. A
// part that changes any of these must say by what it does so: otherwise the
// catalogue is not sound, and [Catalogue.Check] says where.
package wiring
