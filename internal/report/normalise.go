package report

import "reflect"

// Normalise makes every nil slice of t an empty one, so that an empty list is
// [] in the file. It returns t.
func Normalise(t *Takeoff) *Takeoff {
	fill(reflect.ValueOf(t).Elem())
	return t
}

func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fill(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	case reflect.Slice:
		if v.IsNil() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
			return
		}
		if k := v.Type().Elem().Kind(); k == reflect.Struct || k == reflect.Slice || k == reflect.Pointer {
			for i := range v.Len() {
				fill(v.Index(i))
			}
		}
	}
}
