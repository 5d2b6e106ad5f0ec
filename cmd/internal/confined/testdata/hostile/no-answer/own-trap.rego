# It answers nothing.
package sillwright.questions

own_value := 1
