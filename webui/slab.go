//go:build !js

package webui

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// slabKinds are the weights of slabs that the setting form asks for, each with its three fields. A sled with one weight,
// or whose slabs nobody described, has one row without a name.
func slabKinds(class *domain.Class) []templates.SlabKind {
	kinds := class.Sled.Card.Slabs.Kinds
	list := make([]templates.SlabKind, max(len(kinds), 1))
	for i := range list {
		list[i] = templates.SlabKind{
			Left:   templates.SlabField(templates.FieldLeft, i),
			Middle: templates.SlabField(templates.FieldMiddle, i),
			Right:  templates.SlabField(templates.FieldRight, i),
		}
		if len(kinds) > 1 {
			list[i].Weight = kinds[i].Weight.String()
		}
		if len(kinds) > 0 {
			list[i].Hint = fmt.Sprintf("There are %d of %s.", kinds[i].Count, kinds[i].Weight)
		}
	}
	return list
}

// settingFieldsOf are what the setting form of a class sends.
func settingFieldsOf(class *domain.Class) []string {
	list := slices.Clone(settingFields)
	for _, k := range slabKinds(class)[1:] {
		list = append(list, k.Left, k.Middle, k.Right)
	}
	return list
}

// slabValues fills slabs and box of the setting form. What is computed from the slabs is not typed beside them, where it
// would have to be changed with each slab. Slabs that this sled does not have are left out, and the weight in the box
// stands for them: a setting may come from another sled.
func slabValues(class *domain.Class, s domain.Setting, into map[string]string) {
	kinds, there := slabKinds(class), class.Sled.Card.Slabs.Kinds
	counts := make([]domain.Slabs, len(kinds))
	for _, p := range s.Piles.List() {
		i := slices.IndexFunc(there, func(k domain.SlabKind) bool { return k.Weight.Same(p.Weight) })
		if i < 0 {
			counts, s.Piles = make([]domain.Slabs, len(kinds)), domain.Piles{}
			break
		}
		counts[i] = p.Slabs
	}
	if s.Piles.IsZero() {
		into[templates.FieldBox] = s.Box.String()
	}
	if len(there) == 0 {
		counts[0] = s.Slabs
	}
	for i, k := range kinds {
		into[k.Left], into[k.Middle], into[k.Right] = strconv.Itoa(counts[i].Left), strconv.Itoa(counts[i].Middle), strconv.Itoa(counts[i].Right)
	}
}

// readSlabs reads the slabs of the setting form: their counts, and which they are where the sled has more than one
// weight. A count that is left out is 0.
func readSlabs(class *domain.Class, values url.Values) (all domain.Slabs, piles domain.Piles, err error) {
	var list []domain.Pile
	for i, k := range slabKinds(class) {
		var s domain.Slabs
		for _, n := range []struct {
			into  *int
			field string
		}{{&s.Left, k.Left}, {&s.Middle, k.Middle}, {&s.Right, k.Right}} {
			if *n.into, err = number(values, n.field, "it"); err != nil {
				return all, piles, err
			}
		}
		if k.Weight == "" {
			return s, domain.Piles{}, nil
		}
		list = append(list, domain.Pile{Weight: class.Sled.Card.Slabs.Kinds[i].Weight, Slabs: s})
	}
	piles, err = domain.NewPiles(list)
	return domain.Slabs{}, piles, err
}

// typedBox draws the box by what stands in the setting form, as far as it can be read; nil where it cannot. Slabs that
// the sled refuses are drawn all the same: seeing them helps to find what was meant.
func typedBox(class *domain.Class, values url.Values) *templates.Box {
	s, err := readSetting(class, values)
	if err != nil {
		return nil
	}
	if on, err := s.On(class.Sled); err == nil {
		s = on
	} else if !s.Piles.IsZero() {
		s.Slabs = s.Piles.Slabs()
	}
	return boxOf(s, class.Sled.Card)
}

// deskFilled fills the setting form from the address: from an earlier class, or to be looked at before it is stored.
// What the domain would refuse is said at its field. Nothing is written by it.
func deskFilled(class *domain.Class, view *templates.DeskSetting, query url.Values) {
	if view.Write == nil || !query.Has(templates.FieldGear) {
		return
	}
	s, err := readSetting(class, query)
	if err == nil {
		if s, err = s.On(class.Sled); err == nil {
			err = s.Check(class.Sled)
		}
	}
	if e, ok := errors.AsType[*domain.Error](err); ok {
		no := &refused{form: "setting", values: query, err: e}
		view.Write = no.make("setting", view.Write.Action, settingFieldsOf(class), view.Write.Hidden[1:]...)
	} else {
		view.Write.Values = settingValues(class, s)
	}
	view.Filled = "Filled in and not stored."
	view.Box = typedBox(class, query)
}

// deskBox answers with the picture of the box alone, by what stands in the setting form; the page asks for it while
// somebody types, and does without where no script runs.
func (s *Site) deskBox(c echo.Context) error {
	_, page, err := s.classPage(c.Request().Context(), c, domain.Desk)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Type", htmlType)
	c.Response().WriteHeader(http.StatusOK)
	return typedBox(&page.Class, c.QueryParams()).Fragment().Render(c.Request().Context(), c.Response())
}

// settingFill is the address of the desk's page with a setting filled into its form.
// The limit of the speed is this class's own, whatever it was where the setting comes from.
func settingFill(page desk.ClassPage, s domain.Setting) string {
	query := make(url.Values)
	s.SpeedLimit = page.Class.Rules.Speed.Limit
	for field, value := range settingValues(&page.Class, s) {
		if value != "" {
			query.Set(field, value)
		}
	}
	return classHref(page.Event, page.Class) + "/desk?" + query.Encode() + "#write"
}
