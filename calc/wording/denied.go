package wording

// denying are the words that turn advice into a warning against it.
const denying = " never not dont cannot cant mustnt shouldnt wont nobody nor neither isnt arent doesnt avoid refuse "

// turning are the words with which a denying word says the opposite: nothing
// wrong with it, do not hesitate to do it.
const turning = " hesitate worry afraid fear harm harms hurt hurts problem wrong forget matter matters mind danger risk need needs only just necessary bother wait fret why "

// condemning are the words that, said of something, warn against it.
const condemning = " dangerous deadly wrong kills kill fatal forbidden mistake fire illegal "

// opening are words that open a clause of their own: what denies the clause
// before says nothing of it. "The hum will not return once you cut the pin."
const opening = " if once until unless "

// nearBefore and nearBehind are how many words before and behind a wording are
// looked at for what denies it.
const nearBefore, nearBehind = 4, 6

// Denied reports whether the words from and up to stand in their sentence as
// something not to be done: never, or do not, right before them in their
// clause; or that it is dangerous, right behind.
func Denied(text []Word, from, to int) bool {
	return deniedBefore(text, from) || condemnedBehind(text, to)
}

func deniedBefore(text []Word, from int) bool {
	turned := false
	for i, near := from-1, 0; i >= 0 && near < nearBefore && !text[i].Breaks; i, near = i-1, near+1 {
		word := text[i].Text
		if among(opening, word) {
			return false
		}
		turned = turned || among(turning, word)
		if among(denying, word) {
			why := i > 0 && text[i-1].Text == "why"
			return !turned && !why
		}
	}
	return false
}

func condemnedBehind(text []Word, to int) bool {
	if to > 0 && text[to-1].Ends {
		return false
	}
	for i := to; i < len(text) && i < to+nearBehind; i++ {
		word := text[i].Text
		if among(denying, word) || word == "no" || word == "but" {
			return false
		}
		if among(condemning, word) {
			return true
		}
		if text[i].Breaks {
			return false
		}
	}
	return false
}
