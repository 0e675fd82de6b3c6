// Package access says what each role on a farm may read and write.
package access

import (
	"fmt"
	"slices"
	"strings"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

// Role is what somebody is on a farm.
type Role string

// The roles.
const (
	Owner  Role = "owner"  // reads and writes everything, and says who else does
	Crew   Role = "crew"   // counts, photographs, flags, rates and tells what was done; reads what that takes
	Viewer Role = "viewer" // looks on
)

// ParseRole reads a role.
func ParseRole(s string) (Role, error) {
	switch r := Role(s); r {
	case Owner, Crew, Viewer:
		return r, nil
	}
	return "", fmt.Errorf("%.20q is no role: there are owner, crew and viewer", s)
}

// Scopes are what the role may read, in canonical order. Money is the owner's.
func (r Role) Scopes() []syncproto.Scope {
	switch r {
	case Owner:
		return syncproto.Scopes
	case Crew, Viewer:
		return []syncproto.Scope{syncproto.ScopeField, syncproto.ScopeShed}
	}
	return nil
}

// Writes tells whether the role may write anything.
func (r Role) Writes() bool { return r == Owner || r == Crew }

// Grant is what one device may do: the role of its person.
type Grant struct {
	Role   Role
	Person string
	Owners []string // persons who are owners
}

// Refuses tells why a change may not be written; an empty code lets it pass. An owner may write for
// anybody, and all but invoices. Others may write for whoever is handed the phone, but not for an owner, whose word they would
// be giving.
func (g Grant) Refuses(c syncproto.Change) (syncproto.Code, string) {
	switch {
	case g.Role == Owner && c.Type == farm.TypeInvoice:
		return syncproto.CodeRole, "invoices are written by the shed, which numbers them"
	case g.Role == Owner:
		return "", ""
	case !slices.Contains(g.Role.Scopes(), c.Scope):
		return syncproto.CodeScope, fmt.Sprintf("what is of the %s may not be written by a %s", c.Scope, g.Role)
	case !g.Role.Writes():
		return syncproto.CodeRole, fmt.Sprintf("a %s may write nothing", g.Role)
	case g.speaksFor(c.Person), saysWho(c) && g.speaksFor(c.Value.Text):
		return syncproto.CodeRole, "only an owner may write for an owner"
	case !g.isCrewsWork(c):
		return syncproto.CodeRole, fmt.Sprintf("the %s may not write %.30q of a %.30q", g.Role, c.Field, c.Type)
	}
	return "", ""
}

// saysWho tells whether a change names the person who counted or measured.
func saysWho(c syncproto.Change) bool {
	return c.Field == farm.FieldPerson && slices.Contains(crewsDeeds, c.Type)
}

var crewsDeeds = []string{farm.TypeVisit, farm.TypeReading, farm.TypePacked, farm.TypeShrink, farm.TypeTask, farm.TypeIntent, farm.TypeWork}

// speaksFor tells whether a person is an owner, and another than the device's own.
func (g Grant) speaksFor(person string) bool {
	return person != g.Person && slices.Contains(g.Owners, person)
}

// isCrewsWork tells whether a change counts, photographs, flags, rates or measures, packs or writes off, tells what was
// done to a bed, who worked how long, what of the tasks and the division plan is done, or the weather, or says what the person is called.
func (g Grant) isCrewsWork(c syncproto.Change) bool {
	switch c.Type {
	case farm.TypeVisit:
		return true
	case farm.TypePlant:
		if isElement(c.Op) {
			return slices.Contains(crewsSets, c.Field)
		}
		return c.Op == syncproto.OpSet && rates(c.Field)
	case farm.TypeEvent, farm.TypeReading, farm.TypePacked, farm.TypeShrink, farm.TypeWeather, farm.TypeWork:
		return true
	case farm.TypeTask:
		return farm.IsOwnTask(crop.TaskID(c.ID)) || c.Op == syncproto.OpSet && slices.Contains(crewsOfTasks, c.Field)
	case farm.TypeIntent:
		return c.Op == syncproto.OpSet && slices.Contains(crewsOfIntents, c.Field)
	case farm.TypePerson:
		return c.ID == g.Person && c.Field == farm.FieldName
	}
	return false
}

var crewsSets = []string{farm.FieldPhotos, farm.FieldFlags, farm.FieldNotes}

// crewsOfTasks are the fields of tasks that follow from what grows; a task in somebody's own words is crew's as a whole.
var crewsOfTasks = []string{farm.FieldDone, farm.FieldPerson, farm.FieldDue, farm.FieldDropped}

// crewsOfIntents are what is said of a decision in the row; the decision is the owner's.
var crewsOfIntents = []string{farm.FieldDone, farm.FieldPerson}

// rates tells whether a field of a plant is what a walk finds out by eye: alive or gone, and which colour.
func rates(field string) bool {
	return field == farm.FieldColour || field == farm.FieldRemoved ||
		strings.HasPrefix(field, farm.FieldStand) || strings.HasPrefix(field, farm.FieldColourIn)
}

func isElement(op syncproto.Op) bool { return op == syncproto.OpAdd || op == syncproto.OpRemove }
