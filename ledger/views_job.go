package ledger

import q "fishplate/ledger/quantity"

// Decision is [decision.ID]: what was chosen, and why.
type Decision struct {
	Head
	Question  q.Word   `key:"question" about:"what was to be decided"`
	Chose     q.Word   `key:"chose" about:"what was chosen"`
	Because   q.Word   `key:"because" free:"" about:"why"`
	InsteadOf []q.Word `key:"instead-of" about:"what was not chosen"`
	About     []Ref    `key:"about" ref:"any" about:"entries that it is about"`
	Trigger   q.Word   `key:"trigger" about:"when to think again"`
}

// Faq is [faq.ID]: what buyers and strangers ask, and what is said.
type Faq struct {
	Head
	Ask    q.Word  `key:"ask" about:"the question"`
	Say    q.Word  `key:"say" about:"the answer"`
	About  []Ref   `key:"about" ref:"any" about:"entries that it is about"`
	Public q.Truth `key:"public" default:"false" about:"it may stand in the public edition"`
}

// Instruction is [instruction.ID]: what a driver or keeper must do.
type Instruction struct {
	Head
	When  q.Word `key:"when" about:"when it applies"`
	Do    q.Word `key:"do" about:"what to do"`
	About []Ref  `key:"about" ref:"any" about:"entries or values that it keeps"`
	Gauge Ref    `key:"gauge" ref:"part" about:"part.x that shows it"`
}

// Visit is [visit.ID]: the vehicle came back after delivery.
type Visit struct {
	Head
	Date      Date       `key:"date" about:"when it came"`
	Odometer  q.Quantity `key:"odometer" dim:"length" unit:"mi or km" about:"distance run"`
	Complaint q.Word     `key:"complaint" about:"what the driver said"`
	Cause     q.Word     `key:"cause" about:"what it was"`
	Cure      q.Word     `key:"cure" about:"what was done"`
	About     []Ref      `key:"about" ref:"any" about:"entries that it is about"`
}
