package ledger

import q "fishplate/ledger/quantity"

// Decision is [decision.ID]: what was chosen, and why.
type Decision struct {
	Head
	Question  q.Word   `key:"question" public:"chosen" about:"what was to be decided"`
	Chose     q.Word   `key:"chose" public:"chosen" about:"what was chosen"`
	Because   q.Word   `key:"because" free:"" public:"chosen" about:"why"`
	InsteadOf []q.Word `key:"instead-of" public:"chosen" about:"what was not chosen"`
	About     []Ref    `key:"about" ref:"any" public:"chosen" about:"entries that it is about"`
	Trigger   q.Word   `key:"trigger" public:"chosen" about:"when to think again"`
}

// Faq is [faq.ID]: what buyers and strangers ask, and what is said.
type Faq struct {
	Head
	Ask   q.Word `key:"ask" public:"chosen" about:"the question"`
	Say   q.Word `key:"say" public:"chosen" about:"the answer"`
	About []Ref  `key:"about" ref:"any" public:"chosen" about:"entries that it is about"`
}

// Instruction is [instruction.ID]: what a driver or keeper must do.
type Instruction struct {
	Head
	When  q.Word `key:"when" public:"chosen" about:"when it applies"`
	Do    q.Word `key:"do" public:"chosen" about:"what to do"`
	About []Ref  `key:"about" ref:"any" public:"chosen" about:"entries or values that it keeps"`
	Gauge Ref    `key:"gauge" ref:"part" public:"chosen" about:"part.x that shows it"`
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
