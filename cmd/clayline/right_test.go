package main

import "strings"

// right says who may use a route.
type right struct {
	route string
	who   string
	gives int
	// A page to read, or the page with the form, is that of a class that stands like this.
	class stands
	// A form to send is found on this page, "" for the class's own desk, and filled in like this. Sending it is one
	// line in a journal. Of two pages, parted by a space, the second has it where the first has not.
	page  string
	form  string
	typed map[string]string
}

// programmePage is where the sessions, tracks and sleds of the first event are.
const programmePage = "/e/" + inventedSlug + "/desk/programme"

// rights is the whole matrix.
func rights() []right {
	reason := map[string]string{"reason": "said so"}
	return []right{
		{route: "GET /", who: everybody, gives: 200},
		{route: "GET /favicon.ico", who: everybody, gives: 302},
		{route: "GET /static/:file", who: everybody, gives: 200},
		{route: "GET /worker.js", who: everybody, gives: 200}, // it holds nothing of an event
		{route: "GET /remind.js", who: everybody, gives: 200}, // nor does this
		{route: "GET /enter/:secret", who: everybody, gives: 200},
		{route: "POST /enter/:secret", who: everybody, gives: 303},
		{route: "POST /leave", who: everybody, gives: 303},

		{route: "GET /e/:event", who: everybody, gives: 200},
		{route: "GET /e/:event/:class", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/sheet", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/result", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/result.csv", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/result.json", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/draw.json", who: everybody, gives: 200, class: drawn},
		{route: "GET /e/:event/pits", who: everybody, gives: 200},
		{route: "GET /e/:event/day", who: everybody, gives: 200},
		{route: "GET /e/:event/results", who: everybody, gives: 200},
		{route: "GET /e/:event/results.csv", who: everybody, gives: 200},
		{route: "GET /e/:event/results.json", who: everybody, gives: 200},
		{route: "GET /schema/result.json", who: everybody, gives: 200},
		{route: "GET /e/:event/programme.ics", who: everybody, gives: 200},
		{route: "GET /e/:event/:class/programme.ics", who: everybody, gives: 200},
		{route: "GET /e/:event/screen", who: everybody, gives: 200},
		{route: "GET /e/:event/screen/:track", who: everybody, gives: 200},
		{route: "GET /e/:event/strip", who: everybody, gives: 200},
		{route: "GET /e/:event/strip/:track", who: everybody, gives: 200},
		{route: "GET /e/:event/booth", who: everybody, gives: 302}, // to a page that asks for the pass
		{route: "GET /e/:event/booth/announcer", who: everybody, gives: 302},
		{route: "GET /e/:event/cab", who: everybody, gives: 302},
		{route: "GET /e/:event/scale", who: everybody, gives: 302},
		{route: "GET /e/:event/lane", who: everybody, gives: 302},

		{route: "GET /e/:event/:class/scale", who: scaleOrDesk, gives: 200},
		{route: "POST /e/:event/:class/scale/weigh", who: scaleOrDesk, gives: 303, class: limited, page: "scale", typed: map[string]string{"entry": "41", "weight": "8190"}},

		// There are a few classes now, and one can go before another. The rows that follow plan class upon class, and
		// the exact order of many takes seconds.
		{route: "GET /e/:event/desk/order", who: deskAlone, gives: 200},
		{route: "POST /e/:event/desk/order", who: deskAlone, gives: 303, page: "/e/" + inventedSlug + "/desk/order?down=:class /e/" + inventedSlug + "/desk/order?up=:class"},

		{route: "POST /e/:event/:class/scale/misread", who: scaleOrDesk, gives: 303, class: weighed, page: "scale", typed: reason},

		{route: "GET /e/:event/:class/lane", who: laneOrBooth, gives: 200},
		{route: "POST /e/:event/:class/lane/presence", who: laneOrBooth, gives: 303, class: testHook, page: "lane", typed: map[string]string{"where": "missing"}},
		{route: "GET /e/:event/flag", who: everybody, gives: 302},
		{route: "GET /e/:event/:class/flag", who: laneOrDesk, gives: 200},
		{route: "POST /e/:event/:class/flag/say", who: laneOrDesk, gives: 303, class: testHook, page: "flag?hook=HOOK&ask=re-hook", typed: map[string]string{"press": "sled"}},
		{route: "POST /e/:event/:class/flag/noted", who: laneOrDesk, gives: 303, class: testHook, page: "flag?hook=HOOK&ask=noted", typed: map[string]string{"press": "breakaway"}},
		{route: "GET /e/:event/desk/poster", who: deskAlone, gives: 200},
		{route: "GET /e/:event/:class/cab", who: cabOrDesk, gives: 200},
		{route: "GET /e/:event/:class/cab/estimate", who: cabOrDesk, gives: 200},
		{route: "GET /e/:event/:class/earlier", who: cabOrDesk, gives: 200},
		{route: "POST /e/:event/:class/cab/ready", who: cabOrDesk, gives: 303, class: testHook, page: "cab"},
		{route: "POST /e/:event/:class/cab/hold", who: cabOrDesk, gives: 303, class: testHook, page: "cab", typed: map[string]string{"words": "cable frayed"}},
		{route: "POST /e/:event/:class/cab/differed", who: cabOrDesk, gives: 303, class: hooking, page: "cab", typed: map[string]string{"hand drop": "on"}},
		{route: "GET /e/:event/cab/sled/:sled", who: cabOrDesk, gives: 200},
		{route: "GET /e/:event/cab/sled/:sled/list", who: cabOrDesk, gives: 200},
		{route: "POST /e/:event/cab/sled/:sled/inspect", who: cabOrDesk, gives: 303, page: "/e/" + inventedSlug + "/cab/sled/:sled", typed: map[string]string{"state-0": "ok", "by": "Ada Flagg"}},
		{route: "GET /e/:event/:class/booth", who: boothOrDesk, gives: 200},
		{route: "GET /e/:event/:class/booth/announcer", who: boothOrDesk, gives: 200},
		{route: "POST /e/:event/:class/booth/call", who: boothOrDesk, gives: 303, class: frozen, page: "booth"},
		{route: "POST /e/:event/:class/cab/speed", who: cabOrDesk, gives: 303, class: hooking, page: "cab", typed: map[string]string{"top": "3.4"}},
		{route: "POST /e/:event/:class/booth/speed", who: boothOrDesk, gives: 303, class: hooking, page: "booth", typed: map[string]string{"top": "3.4", "at_line": "5 km/h"}},
		{route: "POST /e/:event/:class/booth/start", who: boothOrDesk, gives: 303, class: hooking, page: "booth"},
		{route: "POST /e/:event/:class/booth/result", who: boothOrDesk, gives: 303, class: hooking, page: "booth", typed: map[string]string{"result": "281.36"}},
		{route: "POST /e/:event/:class/booth/typing", who: boothOrDesk, gives: 204, class: hooking, page: "booth", form: "result", typed: map[string]string{"result": "281.36"}},
		{route: "POST /e/:event/:class/booth/choice", who: boothOrDesk, gives: 303, class: choiceOpen, page: "booth", form: "choice last"},
		{route: "POST /e/:event/:class/booth/second", who: boothOrDesk, gives: 303, class: hooking, page: "booth"},
		{route: "POST /e/:event/:class/booth/again", who: boothOrDesk, gives: 303, class: hooking, page: "booth", typed: reason},
		{route: "POST /e/:event/:class/booth/drop", who: boothOrDesk, gives: 303, class: hooking, page: "booth", typed: map[string]string{"move": "last", "reason": "belt"}},
		{route: "POST /e/:event/:class/booth/correct", who: boothOrDesk, gives: 303, class: lastHook, page: "booth", typed: map[string]string{"result": "255", "reason": "misread"}},
		{route: "POST /e/:event/:class/booth/photo", who: boothOrDesk, gives: 303, class: lastHook, page: "booth", typed: map[string]string{"photo": photoOfShade(1)}},
		{route: "GET /e/:event/:class/photo/:photo", who: "booth, " + cabOrDesk, gives: 200, class: photographed},

		{route: "GET /e/:event/desk", who: deskAlone, gives: 200},
		{route: "GET /e/:event/desk/class", who: deskAlone, gives: 200},
		{route: "GET /e/:event/:class/desk", who: deskAlone, gives: 200},
		{route: "GET /e/:event/:class/desk/purse", who: deskAlone, gives: 200},
		{route: "GET /e/:event/:class/desk/box", who: deskAlone, gives: 200},
		{route: "POST /e/:event/desk/pass", who: deskAlone, gives: 200, page: "/e/" + inventedSlug + "/desk", typed: map[string]string{"role": "cab"}},
		{route: "GET /e/:event/desk/pass", who: deskAlone, gives: 200},
		{route: "POST /e/:event/desk/pass/replace", who: deskAlone, gives: 200, page: "/e/" + inventedSlug + "/desk/pass"},
		{route: "POST /e/:event/desk/pass/revoke", who: deskAlone, gives: 303, page: "/e/" + inventedSlug + "/desk/pass"},
		{route: "POST /e/:event/desk/class", who: deskAlone, gives: 303, page: "/e/" + inventedSlug + "/desk/class"},
		{route: "GET /e/:event/desk/programme", who: deskAlone, gives: 200},
		{route: "POST /e/:event/desk/programme/session", who: deskAlone, gives: 303, page: programmePage, typed: map[string]string{"starts": "2026-09-19 18:00"}},
		{route: "POST /e/:event/desk/programme/session-change", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/session-remove", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/track", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/track-change", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/track-remove", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/sled", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/desk/programme/sled-change", who: deskAlone, gives: 303, page: programmePage},
		{route: "POST /e/:event/:class/desk/place", who: deskAlone, gives: 303, class: entering},
		{route: "POST /e/:event/:class/desk/entry", who: deskAlone, gives: 303, class: entering, typed: map[string]string{"number": "12", "puller": "Pia Holm"}},
		{route: "POST /e/:event/:class/desk/scratch", who: deskAlone, gives: 303, class: entering, typed: reason},
		{route: "POST /e/:event/:class/desk/attend", who: deskAlone, gives: 303, class: entering, typed: map[string]string{"came-0": "yes", "fee-0": "20"}},
		{route: "POST /e/:event/:class/desk/draw", who: deskAlone, gives: 303, class: entering, typed: map[string]string{"seed": "dice 1"}},
		{route: "POST /e/:event/:class/desk/commit", who: deskAlone, gives: 303, class: entering, typed: map[string]string{"commitment": strings.Repeat("7d", 32), "reason": "another"}},
		{route: "POST /e/:event/:class/desk/swap", who: deskAlone, gives: 303, class: drawn, page: "", typed: reason},
		{route: "POST /e/:event/:class/desk/setting", who: deskAlone, gives: 303, class: written},
		{route: "POST /e/:event/:class/desk/freeze", who: deskAlone, gives: 303, class: written},
		{route: "POST /e/:event/:class/desk/reset", who: deskAlone, gives: 303, class: frozen, typed: reason},
		{route: "POST /e/:event/:class/desk/call", who: deskAlone, gives: 303, class: frozen},
		{route: "POST /e/:event/:class/desk/round", who: deskAlone, gives: 303, class: pullOffDue},
		{route: "POST /e/:event/:class/desk/bring", who: deskAlone, gives: 303, class: missed, typed: reason},
		{route: "POST /e/:event/:class/desk/protest", who: deskAlone, gives: 303, class: decided, typed: map[string]string{"about": "side line", "by": "Jonas Weir"}},
		{route: "POST /e/:event/:class/desk/ruling", who: deskAlone, gives: 303, class: protested, typed: reason},
		{route: "POST /e/:event/:class/desk/correct", who: deskAlone, gives: 303, class: upheld, typed: map[string]string{"result": "255"}},
		{route: "POST /e/:event/:class/desk/sign", who: deskAlone, gives: 303, class: decided, typed: map[string]string{"name": "Ada Flagg"}},
		{route: "POST /e/:event/:class/desk/test", who: deskAlone, gives: 303, class: free},
		{route: "POST /e/:event/:class/desk/line", who: deskAlone, gives: 303, class: free, typed: reason},
		{route: "POST /e/:event/:class/desk/stop", who: deskAlone, gives: 303, class: hooking, typed: reason},
		{route: "POST /e/:event/:class/desk/resume", who: deskAlone, gives: 303, class: stopped, typed: reason},
		{route: "POST /e/:event/:class/desk/reopen", who: deskAlone, gives: 303, class: official, typed: reason},

		{route: "GET /e/:event/:class/entry/:number", who: everybody, gives: 200},
		{route: "POST /e/:event/:class/entry/:number/remind", who: everybody, gives: 404}, // this server reminds nobody; see remind_test.go
		{route: "POST /e/:event/:class/entry/:number/forget", who: everybody, gives: 404},
		{route: "GET /p/:puller", who: everybody, gives: 200},
		{route: "GET /p/:puller/:home", who: everybody, gives: 404}, // nobody here has a home
		{route: "GET /v/:vehicle", who: everybody, gives: 200},
		{route: "GET /v/:vehicle/:home", who: everybody, gives: 404}, // nor has a vehicle
		{route: "GET /season", who: everybody, gives: 200},
		{route: "GET /season/:season", who: everybody, gives: 200},
		{route: "GET /season/:season/standing.csv", who: everybody, gives: 200},
		{route: "GET /season/:season/standing.json", who: everybody, gives: 200},
		{route: "GET /robots.txt", who: everybody, gives: 200},
		{route: "GET /sitemap.xml", who: everybody, gives: 200},
		{route: "GET /records", who: everybody, gives: 200},
		{route: "GET /desk/season", who: serverAlone, gives: 200},
		{route: "GET /desk/season/:season", who: serverAlone, gives: 200},
		{route: "POST /desk/season", who: serverAlone, gives: 303, page: "/desk/season", typed: map[string]string{"document": `{"name": "Other season", "events": [{"name": "Elm"}]}`}},
		{route: "POST /desk/season/:season", who: serverAlone, gives: 303, page: "/desk/season/" + fairSeason, form: fairSeason},

		{route: "GET /desk", who: serverAlone, gives: 200},
		{route: "GET /desk/pass", who: serverAlone, gives: 200},
		{route: "POST /desk/pass", who: serverAlone, gives: 200, page: "/desk/pass", typed: map[string]string{"role": "desk"}},
		{route: "POST /desk/pass/replace", who: serverAlone, gives: 200, page: "/desk/pass"},
		{route: "POST /desk/pass/revoke", who: serverAlone, gives: 303, page: "/desk/pass"},
		{route: "POST /desk", who: serverAlone, gives: 303, page: "/desk", typed: map[string]string{"place": "Wrenfield", "zone": "UTC", "sled": "Plumb Bob"}},
	}
}
