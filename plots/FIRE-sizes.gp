# gnuplot FIRE-sizes.gp draws FIRE-sizes.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 282
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'FIRE-sizes'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; wire: least, has, too small; device, A: from, to, to by exception, size, has, 0 none 1 well 2 by exception 3 outside
$sizes << EOD
3 120.00 130.00 0 540.00 840.00 0.00 600.00 250.00 3
2 6.00 25.00 0 5.52 15.00 0.00 15.00 15.00 1
1 126.00 150.00 0 573.89 840.00 0.00 600.00 600.00 1
EOD
set multiplot title 'Feeder FIRE: sizes by NFPA 70-2023, and what is installed' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
set bmargin at screen 1 - 104.0/tall; set key width 0 maxrows 3
plot NaN with lines lw 3 lc rgb '#1a1a1a' title 'by the code', \
  NaN with boxxyerror fs solid 1 noborder fc rgb '#b0b0b0' title 'installed wire carries', \
  NaN with boxxyerror fs solid 1 noborder fc rgb '#b9d7aa' title 'device allowed', \
  NaN with boxxyerror fs solid 1 border lc rgb '#b9d7aa' fc rgb '#dcebd3' title 'only by exception', \
  NaN with points pt 7 ps 1.3*mark lc rgb '#334155' title 'installed device', \
  NaN with points pt 6 ps 1.4*mark lw 2.5 lc rgb '#334155' title 'installed, by exception', \
  NaN with points pt 13 ps 1.9*mark lc rgb '#b91c1c' title 'installed, outside'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set grid xtics ytics lt 1 lw 0.7 lc rgb '#d5d5d5'
set tmargin at screen 1 - 142.0/tall; set bmargin at screen 62.0/tall
set lmargin at screen 118.0/wide; set rmargin at screen 517.0/wide
set title 'Wire installed, or (by the code)'; set xlabel 'Current, A'
set ytics nomirror out ('FP-1' 3, 'JP-1' 2, 'feeder FIRE' 1)
set yrange [0.4:3.6]
set logscale x
set xrange [4.286:210.000]
set xtics nomirror out ('5' 5, '10' 10, '20' 20, '50' 50, '100' 100, '200' 200)
unset label
set label 1 '1 cu' at graph 1, first 3 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 2 '12 cu' at graph 1, first 2 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 3 '1/0 cu' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($4==0?4.286:NaN):1:(4.286):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b0b0b0' notitle, \
  $sizes using ($4==1?4.286:NaN):1:(4.286):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b91c1c' notitle, \
  $sizes using 2:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle
set lmargin at screen 659.0/wide; set rmargin at screen 1058.0/wide
set title 'Device installed, or (by the code)'; set xlabel 'Current, A'
set ytics nomirror out ('' 3, '' 2, '' 1)
set yrange [0.4:3.6]
set logscale x
set xrange [3.943:840.000]
set xtics nomirror out ('5' 5, '10' 10, '20' 20, '50' 50, '100' 100, '200' 200, '500' 500)
unset label
set label 1 '250 A breaker' at graph 1, first 3 left offset 0.8,0 font ',10' textcolor rgb '#b91c1c'
set label 2 '15 A breaker' at graph 1, first 2 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 3 '600 A breaker' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($7>0?$6:NaN):1:6:7:($1-0.26):($1+0.26) with boxxyerror fs solid 1 border lc rgb '#b9d7aa' fc rgb '#dcebd3' notitle, \
  $sizes using 5:1:5:6:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b9d7aa' notitle, \
  $sizes using 8:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle, \
  $sizes using ($10==1?$9:NaN):1 with points pt 7 ps 1.3*mark lc rgb '#334155' notitle, \
  $sizes using ($10==2?$9:NaN):1 with points pt 6 ps 1.4*mark lw 2.5 lc rgb '#334155' notitle, \
  $sizes using ($10==3?$9:NaN):1 with points pt 13 ps 1.9*mark lc rgb '#b91c1c' notitle
unset multiplot
unset output
