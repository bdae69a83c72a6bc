# gnuplot LIFT-sizes.gp draws LIFT-sizes.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 386
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'LIFT-sizes'
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
7 120.00 130.00 0 110.40 250.00 350.00 250.00 250.00 1
6 120.00 130.00 0 110.40 250.00 350.00 250.00 250.00 1
5 155.00 175.00 0 142.60 350.00 0.00 350.00 350.00 1
4 155.00 175.00 0 142.60 350.00 0.00 350.00 350.00 1
3 9.50 20.00 0 8.74 15.00 0.00 15.00 15.00 1
2 17.50 35.00 0 16.10 45.00 50.00 45.00 45.00 1
1 492.60 510.00 0 461.60 600.00 0.00 600.00 600.00 1
EOD
set multiplot title 'Feeder LIFT: sizes by NFPA 70-2023, and what is installed' font ',14'
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
set ytics nomirror out ('LP-1' 7, 'LP-2' 6, 'LP-3' 5, 'LP-4' 4, 'PRIME' 3, 'HOIST' 2, 'feeder LIFT' 1)
set yrange [0.4:7.6]
set logscale x
set xrange [6.786:714.000]
set xtics nomirror out ('10' 10, '20' 20, '50' 50, '100' 100, '200' 200, '500' 500)
unset label
set label 1 '1 cu' at graph 1, first 7 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 2 '1 cu' at graph 1, first 6 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 3 '2/0 cu' at graph 1, first 5 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 4 '2/0 cu' at graph 1, first 4 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 5 '12 cu' at graph 1, first 3 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 6 '10 cu' at graph 1, first 2 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 7 '2 x 250 cu' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($4==0?6.786:NaN):1:(6.786):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b0b0b0' notitle, \
  $sizes using ($4==1?6.786:NaN):1:(6.786):3:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b91c1c' notitle, \
  $sizes using 2:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle
set lmargin at screen 659.0/wide; set rmargin at screen 1058.0/wide
set title 'Device installed, or (by the code)'; set xlabel 'Current, A'
set ytics nomirror out ('' 7, '' 6, '' 5, '' 4, '' 3, '' 2, '' 1)
set yrange [0.4:7.6]
set logscale x
set xrange [6.243:840.000]
set xtics nomirror out ('10' 10, '20' 20, '50' 50, '100' 100, '200' 200, '500' 500)
unset label
set label 1 '250 A breaker' at graph 1, first 7 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 2 '250 A breaker' at graph 1, first 6 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 3 '350 A breaker' at graph 1, first 5 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 4 '350 A breaker' at graph 1, first 4 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 5 '15 A dual-el. fuse' at graph 1, first 3 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 6 '45 A fuse' at graph 1, first 2 left offset 0.8,0 font ',10' textcolor rgb '#334155'
set label 7 '600 A breaker' at graph 1, first 1 left offset 0.8,0 font ',10' textcolor rgb '#334155'
plot $sizes using ($7>0?$6:NaN):1:6:7:($1-0.26):($1+0.26) with boxxyerror fs solid 1 border lc rgb '#b9d7aa' fc rgb '#dcebd3' notitle, \
  $sizes using 5:1:5:6:($1-0.26):($1+0.26) with boxxyerror fs solid 1 noborder fc rgb '#b9d7aa' notitle, \
  $sizes using 8:($1-0.38):(0):(0.76) with vectors nohead lw 3 lc rgb '#1a1a1a' notitle, \
  $sizes using ($10==1?$9:NaN):1 with points pt 7 ps 1.3*mark lc rgb '#334155' notitle, \
  $sizes using ($10==2?$9:NaN):1 with points pt 6 ps 1.4*mark lw 2.5 lc rgb '#334155' notitle, \
  $sizes using ($10==3?$9:NaN):1 with points pt 13 ps 1.9*mark lc rgb '#b91c1c' notitle
unset multiplot
unset output
