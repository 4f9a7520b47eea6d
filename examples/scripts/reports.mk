# Job reports of the recipes of a folder, each made anew when its recipe, or a file that it uses, has changed.
#
#   make -f examples/scripts/reports.mk -C examples
#
# No report is made of a recipe that falls short: what goes to the bench holds.
ANNULET ?= annulet
RECIPES ?= $(wildcard *.annulet)
OUT ?= reports

REPORTS := $(RECIPES:%.annulet=$(OUT)/%.txt)

all: $(REPORTS)

$(OUT)/%.txt: %.annulet | $(OUT)
	@$(ANNULET) check --quiet --files -- $< | sed 's|^|$@: |' > $(OUT)/$*.d
	$(ANNULET) eval -- $< > $@.part
	@mv $@.part $@

$(OUT):
	@mkdir -p $@

clean:
	rm -rf $(OUT)

.PHONY: all clean
.DELETE_ON_ERROR:

# Which files each report was made of, from the last time.
-include $(REPORTS:.txt=.d)
