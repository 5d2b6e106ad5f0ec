#!/bin/sh
# Lints doors into the reports that a pipeline shows, and fails only when all of them are written.
#
#   sh lint.sh FOLDER FORMATS PATH...        sh lint.sh .reports junit,markdown doors
#
# Exit codes are those of sillwright lint: 0 all can be ordered, 1 a door fails or is unproven, 2 not all could be
# judged. Each format is a run of its own and the worst counts: 2 beats 1 beats 0.
#
# With SINCE set to a commit only doors that changed since are linted; for a branch give the commit where it began:
#   SINCE=$(git merge-base origin/main HEAD)
set -u

if [ $# -lt 3 ]; then
	echo "usage: lint.sh FOLDER FORMATS PATH..., with commas between FORMATS" >&2
	exit 2
fi
folder=$1
formats=$2
shift 2
mkdir -p -- "$folder" || exit 2
messages=$(mktemp -d) || exit 2
trap 'rm -rf "$messages"' EXIT
trap 'exit 2' HUP INT TERM
: >"$messages/before"

worst=0
for format in $(echo "$formats" | tr ',' ' '); do
	case $format in
	github) report= ;; # commands to whoever runs the log belong in the log
	gitlab) report=doors.codequality.json ;;
	json) report=doors.ndjson ;;
	junit) report=doors.junit.xml ;;
	markdown) report=doors.md ;;
	sarif) report=doors.sarif ;;
	text) report=doors.txt ;;
	*)
		echo "lint.sh: no format $format; allowed: github, gitlab, json, junit, markdown, sarif, text" >&2
		worst=2
		continue
		;;
	esac
	[ -z "$report" ] || rm -f -- "$folder/$report" # a run that ends early leaves an older report alone
	sillwright lint --format "$format" ${report:+"--output=$folder/$report"} ${SINCE:+"--since=$SINCE"} -- "$@" 2>"$messages/now"
	code=$?
	if ! cmp -s "$messages/now" "$messages/before"; then # every run says the same; once is enough
		cat "$messages/now" >&2
		mv "$messages/now" "$messages/before"
	fi
	[ $code -le 2 ] || code=2 # not found, or ended from outside
	[ $code -le $worst ] || worst=$code
done
exit $worst
